"""Calendars, workbooks and answers of backplan in the hands of readers that know nothing of it.

foreign.py calendar FILE EVENTS        python3-icalendar and libical: required properties, as many events
foreign.py workbook FILE SHEET ROWS    python3-openpyxl: types, frozen heads, print set-up, as many rows
foreign.py answers LIST SCHEMAS        python3-jsonschema: each answer of the list by its part of a schema
"""

import datetime
import json
import pathlib
import sys


def judge_calendar(name: str, events: str) -> list[str]:
    return judge_by_icalendar(name, int(events)) + judge_by_libical(name, int(events))


def judge_by_icalendar(name: str, events: int) -> list[str]:
    import icalendar

    with open(name, "rb") as file:
        calendar = icalendar.Calendar.from_ical(file.read())
    faults = [f"no {key}" for key in ("VERSION", "PRODID") if key not in calendar]
    found = [part for part in calendar.walk() if part.name == "VEVENT"]
    if len(found) != events:
        faults.append(f"{len(found)} events, not {events}")
    for part in calendar.walk():
        faults += [f"{part.name} without {key}" for key in getattr(part, "required", ()) if key not in part]
        faults += [f"{part.name}: {error}" for error in getattr(part, "errors", [])]
        if part.name == "VEVENT":
            begin, end = part.decoded("DTSTART"), part.decoded("DTEND")
            if isinstance(begin, datetime.datetime) and begin.tzinfo is not None:
                faults.append("a start with a time zone")
            if end <= begin:
                faults.append(f"an event that ends before it begins: {begin}")
    return [f"python3-icalendar: {fault}" for fault in faults]


# libical judges UID and DTSTAMP only in a published calendar, which must name an organizer: so a copy is one.
PUBLISHED = ("BEGIN:VEVENT\r\n", "BEGIN:VEVENT\r\nORGANIZER:mailto:trainer@example.org\r\n")


def judge_by_libical(name: str, events: int) -> list[str]:
    import gi

    gi.require_version("ICalGLib", "3.0")
    from gi.repository import ICalGLib

    text = pathlib.Path(name).read_bytes().decode("utf-8")
    faults = []
    for kind, copy in (
        ("as it is", text),
        ("published", text.replace(*PUBLISHED).replace("VERSION:2.0\r\n", "VERSION:2.0\r\nMETHOD:PUBLISH\r\n")),
    ):
        calendar = ICalGLib.Component.new_from_string(copy)
        if calendar is None:
            return [f"libical, {kind}: cannot be read"]
        found = calendar.count_components(ICalGLib.ComponentKind.VEVENT_COMPONENT)
        if found != events:
            faults.append(f"libical, {kind}: {found} events, not {events}")
        ICalGLib.restriction_check(calendar)
        if calendar.count_errors() > 0:
            told = [line for line in calendar.as_ical_string().split("\r\n") if "X-LIC-ERROR" in line]
            faults.append(f"libical, {kind}: {calendar.count_errors()} errors, the first: {told[:1]}")
    return faults


def judge_workbook(name: str, title: str, rows: str) -> list[str]:
    import openpyxl

    book = openpyxl.load_workbook(name)
    faults = []
    sheet = book[title]
    if sheet.max_row != int(rows) + 1:
        faults.append(f"{title}: {sheet.max_row - 1} rows, not {rows}")
    if not isinstance(sheet["A2"].value, datetime.datetime):
        faults.append(f"{title}: a date that is {sheet['A2'].value!r}")
    for sheet in book:
        if sheet.max_row < 2:
            faults.append(f"{sheet.title}: is empty")
        if sheet.freeze_panes is None:
            faults.append(f"{sheet.title}: the head is not frozen")
        if sheet.print_title_rows is None:
            faults.append(f"{sheet.title}: the head is not repeated in print")
        if not sheet.sheet_properties.pageSetUpPr.fitToPage or sheet.page_setup.fitToHeight != 0:
            faults.append(f"{sheet.title}: a printed page is not as wide as the sheet")
        for row in sheet.iter_rows():
            faults += [f"{sheet.title}: {cell.coordinate} is a formula" for cell in row if cell.data_type == "f"]
    return [f"python3-openpyxl: {fault}" for fault in faults]


def judge_answers(name: str, schemas: str) -> list[str]:
    from jsonschema import Draft202012Validator, RefResolver

    class Beside(RefResolver):
        """Looks a schema up beside the others, whatever name it gives itself."""

        def __init__(self, base: str):
            super().__init__(base, {})

        def push_scope(self, scope: str) -> None:
            super().push_scope(self.resolution_scope if scope.startswith("urn:") else scope)

    base = pathlib.Path(schemas).resolve().as_uri() + "/"
    faults = []
    for one in json.loads(pathlib.Path(name).read_text(encoding="utf-8")):
        judge = Draft202012Validator(
            {"$ref": one["schema"]},
            resolver=Beside(base),
            format_checker=Draft202012Validator.FORMAT_CHECKER,
        )
        answer = json.loads(pathlib.Path(one["file"]).read_text(encoding="utf-8"))
        faults += [f"{one['name']}: {'/'.join(map(str, e.absolute_path))}: {e.message}" for e in judge.iter_errors(answer)]
    return faults


def main() -> int:
    kind, *words = sys.argv[1:]
    judge = {"calendar": judge_calendar, "workbook": judge_workbook, "answers": judge_answers}[kind]
    faults = judge(*words)
    print("\n".join(faults))
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
