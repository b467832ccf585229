"""Calendars and workbooks of backplan in the hands of readers that know nothing of it.

foreign.py calendar FILE EVENTS     python3-icalendar: required properties, as many events
foreign.py workbook FILE ROWS       python3-openpyxl: types, frozen heads, print set-up, as many rows
"""

import datetime
import sys


def judge_calendar(name: str, events: int) -> list[str]:
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
    return faults


def judge_workbook(name: str, rows: int) -> list[str]:
    import openpyxl

    book = openpyxl.load_workbook(name)
    faults = []
    days = book[book.sheetnames[0]]
    if days.max_row != rows + 1:
        faults.append(f"{days.max_row - 1} rows, not {rows}")
    if not isinstance(days["A2"].value, datetime.datetime):
        faults.append(f"a date that is {days['A2'].value!r}")
    for sheet in book:
        if sheet.freeze_panes is None:
            faults.append(f"{sheet.title}: the head is not frozen")
        if sheet.print_title_rows is None:
            faults.append(f"{sheet.title}: the head is not repeated in print")
        for row in sheet.iter_rows():
            faults += [f"{cell.coordinate} is a formula" for cell in row if cell.data_type == "f"]
    return faults


def main() -> int:
    kind, name, number = sys.argv[1:4]
    judge = {"calendar": judge_calendar, "workbook": judge_workbook}[kind]
    faults = judge(name, int(number))
    print("\n".join(faults))
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
