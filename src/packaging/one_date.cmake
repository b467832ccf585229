# CPack calls it before it packs: everything gets the date of SOURCE_DATE_EPOCH, so that the same sources give the
# same bytes whenever they are built.
if(DEFINED ENV{SOURCE_DATE_EPOCH})
  execute_process(COMMAND find "${CPACK_TEMPORARY_DIRECTORY}" -exec touch -h -d "@$ENV{SOURCE_DATE_EPOCH}" "{}" +
                  COMMAND_ERROR_IS_FATAL ANY)
endif()
