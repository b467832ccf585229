// The only place that opens files or reads the clock. Everything above it works on texts and values.
#pragma once

#include <cstddef>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "backplan/result.hpp"
#include "backplan/units.hpp"

namespace backplan::store {

using Path = std::filesystem::path;
using Variables = std::map<std::string, std::string>;

// The whole file. More than `most_bytes` is a fault of the file (read no further); a missing or
// unreadable one throws MissingInput, a failing disk IoFailure. `hint` goes into MissingInput.
[[nodiscard]] Result<std::string> read_file(const Path& path, std::size_t most_bytes,
                                            const std::string& hint = {});

[[nodiscard]] bool is_file(const Path& path);
// Whether anything has this name, be it a folder that no file can be read from.
[[nodiscard]] bool is_there(const Path& path);
[[nodiscard]] bool is_folder(const Path& path);
// A place that hands on what is written to it, and keeps nothing.
[[nodiscard]] bool is_pipe_or_device(const Path& path);

// Names of the plain files (or of the folders) in a folder, sorted by bytes; none if there is no
// such folder. Names that begin with a dot are left out.
[[nodiscard]] std::vector<std::string> file_names(const Path& folder);
[[nodiscard]] std::vector<std::string> folder_names(const Path& folder);

// The file has either its old bytes or all of the new ones, whatever happens: a temporary file in
// the same folder, written, synced, renamed, the folder synced. Mode 0600. Throws CannotCreate or
// IoFailure; then no temporary file is left.
void write_atomically(const Path& path, std::string_view bytes);

// The same for a place that a user named: through a symbolic link to what it points at, and straight into a
// pipe or a device, which cannot be replaced without losing what it is.
void write_where_named(const Path& path, std::string_view bytes);

// Whether both names lead to one file, through links too, or would if it were there.
[[nodiscard]] bool is_same_place(const Path& one, const Path& other);

// As `write_atomically` for a file that must not be there yet: one that is there, or comes meanwhile, throws
// CannotCreate and stays as it is.
void write_new(const Path& path, std::string_view bytes);

// Makes the folder and those above it (mode 0700); throws CannotCreate.
void make_folders(const Path& folder);

// $XDG_DATA_HOME/backplan, or $HOME/.local/share/backplan. Relative values are ignored, as the XDG
// base directory specification (0.8) asks. None if neither variable helps.
[[nodiscard]] std::optional<Path> user_data_folder(const Variables& variables);

// The process environment as a map.
[[nodiscard]] Variables environment_variables();

// Today in the user's time zone.
[[nodiscard]] Date today();
// Seconds by a clock that only goes on; for waiting times, never for dates.
[[nodiscard]] double seconds_passed();
// Whether standard error is a terminal.
[[nodiscard]] bool errors_go_to_a_terminal();

}  // namespace backplan::store
