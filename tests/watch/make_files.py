#!/usr/bin/python3
"""Writes the watch files of this folder and expected.json, what a reader must find in them.

    make_files.py           write them
    make_files.py --check   compare with what is there; exit code 1 on a difference

Where the machine has gpsbabel or python3-gpxpy, they would be the encoders. It had neither when these files were
made, so the bytes are written here by the published shape of the formats, and without a line of the program that
reads them: the checksum by the table of sixteen values that the format's description gives (the reader works bit by
bit), distances by Vincenty's inverse formula on the WGS 84 ellipsoid (Survey Review 23, 1975; the reader takes the
haversine formula on a sphere, so that the two may differ by half a percent).

All runs are invented; the positions lie in the Atlantic.
"""

import json
import math
import pathlib
import struct
import sys

FOLDER = pathlib.Path(__file__).resolve().parent
FIT_EPOCH = 631065600  # 1989-12-31T00:00:00Z
START = 1795845600  # 2026-11-28T06:00:00Z
SEMICIRCLES = 2**31 / 180.0


# Distances.

def vincenty(a, b):
    """Metres between two (latitude, longitude) in degrees."""
    major, flattening = 6378137.0, 1 / 298.257223563
    minor = (1 - flattening) * major
    u1 = math.atan((1 - flattening) * math.tan(math.radians(a[0])))
    u2 = math.atan((1 - flattening) * math.tan(math.radians(b[0])))
    difference = math.radians(b[1] - a[1])
    along = difference
    for _ in range(100):
        sin_sigma = math.hypot(
            math.cos(u2) * math.sin(along),
            math.cos(u1) * math.sin(u2) - math.sin(u1) * math.cos(u2) * math.cos(along))
        if sin_sigma == 0:
            return 0.0
        cos_sigma = math.sin(u1) * math.sin(u2) + math.cos(u1) * math.cos(u2) * math.cos(along)
        sigma = math.atan2(sin_sigma, cos_sigma)
        sin_alpha = math.cos(u1) * math.cos(u2) * math.sin(along) / sin_sigma
        cos2_alpha = 1 - sin_alpha**2
        middle = cos_sigma - 2 * math.sin(u1) * math.sin(u2) / cos2_alpha if cos2_alpha else 0.0
        c = flattening / 16 * cos2_alpha * (4 + flattening * (4 - 3 * cos2_alpha))
        before = along
        along = difference + (1 - c) * flattening * sin_alpha * (
            sigma + c * sin_sigma * (middle + c * cos_sigma * (2 * middle**2 - 1)))
        if abs(along - before) < 1e-12:
            break
    u_squared = cos2_alpha * (major**2 - minor**2) / minor**2
    big_a = 1 + u_squared / 16384 * (4096 + u_squared * (-768 + u_squared * (320 - 175 * u_squared)))
    big_b = u_squared / 1024 * (256 + u_squared * (-128 + u_squared * (74 - 47 * u_squared)))
    delta = big_b * sin_sigma * (middle + big_b / 4 * (
        cos_sigma * (2 * middle**2 - 1)
        - big_b / 6 * middle * (4 * sin_sigma**2 - 3) * (4 * middle**2 - 3)))
    return minor * big_a * (sigma - delta)


def length(points):
    return sum(vincenty(a, b) for a, b in zip(points, points[1:]))


def track(count):
    """Positions ten seconds apart on a curve in the Atlantic, some 30 m each."""
    return [(30.0 + 0.00022 * i, -40.0 + 0.00015 * i + 0.000004 * i * i) for i in range(count)]


def instant(second):
    day, rest = divmod(START + second, 86400)
    days = day - 20785  # 2026-11-28 is day 20785 since 1970
    assert 0 <= days < 2
    return f"2026-11-{28 + days:02}T{rest // 3600:02}:{rest // 60 % 60:02}:{rest % 60:02}Z"


# FIT.

CRC_TABLE = (0x0000, 0xCC01, 0xD801, 0x1400, 0xF001, 0x3C00, 0x2800, 0xE401,
             0xA001, 0x6C00, 0x7800, 0xB401, 0x5000, 0x9C01, 0x8801, 0x4400)


def crc16(data):
    crc = 0
    for byte in data:
        for nibble in (byte & 0xF, byte >> 4):
            crc = (crc >> 4) ^ CRC_TABLE[crc & 0xF] ^ CRC_TABLE[nibble]
    return crc


ENUM, UINT8, UINT16, SINT32, UINT32 = 0x00, 0x02, 0x84, 0x85, 0x86
PACK = {ENUM: "B", UINT8: "B", UINT16: "H", SINT32: "i", UINT32: "I"}


class Fit:
    """Messages of one file, in one order of bytes."""

    def __init__(self, big_endian=False):
        self.order = ">" if big_endian else "<"
        self.data = b""

    def define(self, local, message, fields, added=()):
        head = 0x40 | local | (0x20 if added else 0)
        self.data += struct.pack(self.order + "BBBHB", head, 0, self.order == ">", message, len(fields))
        for number, kind in fields:
            self.data += struct.pack("BBB", number, struct.calcsize(PACK[kind]), kind)
        if added:
            self.data += struct.pack("B", len(added)) + b"".join(struct.pack("BBB", *one) for one in added)

    def put(self, local, fields, values, after=b"", clock=None):
        head = local if clock is None else 0x80 | local << 5 | clock & 0x1F
        self.data += struct.pack("B", head)
        for (_, kind), value in zip(fields, values):
            self.data += struct.pack(self.order + PACK[kind], value)
        self.data += after

    def file(self, header=14):
        head = struct.pack("<BBHI4s", header, 0x20, 2132, len(self.data), b".FIT")
        if header == 14:
            head += struct.pack("<H", crc16(head))
        whole = head + self.data
        return whole + struct.pack("<H", crc16(whole))


FILE_ID = [(0, ENUM), (1, UINT16)]
RECORD = [(253, UINT32), (0, SINT32), (1, SINT32), (5, UINT32), (3, UINT8)]
SESSION = [(253, UINT32), (2, UINT32), (7, UINT32), (8, UINT32), (9, UINT32), (5, ENUM)]
ACTIVITY = [(253, UINT32), (5, UINT32), (1, UINT16)]


def stamp(second):
    return START + second - FIT_EPOCH


def put_file_id(fit, kind=4):
    fit.define(0, 0, FILE_ID)
    fit.put(0, FILE_ID, (kind, 255))


def put_records(fit, points, metres_each):
    fit.define(1, 20, RECORD)
    for i, (latitude, longitude) in enumerate(points):
        distance = 0xFFFFFFFF if metres_each is None else round(100 * metres_each * i)
        fit.put(1, RECORD, (stamp(10 * i), round(latitude * SEMICIRCLES), round(longitude * SEMICIRCLES),
                            distance, 138))


def put_session(fit, elapsed, moving, metres, sport=1):
    fit.define(2, 18, SESSION)
    fit.put(2, SESSION, (stamp(elapsed), stamp(0), 1000 * elapsed, 1000 * moving, 100 * metres, sport))


def activity_fit():
    fit = Fit()
    put_file_id(fit)
    put_records(fit, track(73), 35.0)
    put_session(fit, 750, 720, 2520)
    fit.define(3, 34, ACTIVITY)
    fit.put(3, ACTIVITY, (stamp(750), stamp(750) - 5 * 3600, 1))
    return fit.file()


def records_only_fit():
    """The other order of bytes, the short header, clocks in the header byte, fields added by an app."""
    fit = Fit(big_endian=True)
    put_file_id(fit)
    first, rest = [(253, UINT32), (5, UINT32)], [(5, UINT32)]
    fit.define(1, 20, first)
    fit.put(1, first, (stamp(0), 0))
    fit.define(2, 20, rest, added=((0, 2, 0), (1, 1, 0)))
    for i in range(1, 61):
        fit.put(2, rest, (100 * 27 * i,), after=b"\x01\x02\x03", clock=stamp(10 * i))
    return fit.file(header=12)


def positions_only_fit():
    fit = Fit()
    put_file_id(fit)
    put_records(fit, track(28), None)
    return fit.file()


def chained_fit():
    """The records in one file, the session in the next."""
    first, second = Fit(), Fit()
    put_file_id(first)
    put_records(first, track(10), 30.0)
    put_file_id(second)
    put_session(second, 600, 600, 1800)
    return first.file() + second.file()


def cycling_fit():
    fit = Fit()
    put_file_id(fit)
    put_session(fit, 3600, 3600, 25000, sport=2)
    return fit.file()


def course_fit():
    fit = Fit()
    put_file_id(fit, kind=6)
    put_records(fit, track(3), 30.0)
    return fit.file()


def two_sessions_fit():
    fit = Fit()
    put_file_id(fit)
    put_session(fit, 600, 600, 1800)
    put_session(fit, 600, 600, 1800)
    return fit.file()


def undefined_fit():
    fit = Fit()
    put_file_id(fit)
    fit.data += b"\x07\x00\x00"
    return fit.file()


def overlong_fit():
    """A message whose fields go beyond the data."""
    fit = Fit()
    put_file_id(fit)
    fit.define(1, 20, RECORD)
    fit.data += b"\x01\x00\x00"
    return fit.file()


def backwards_fit():
    fit = Fit()
    put_file_id(fit)
    fields = [(253, UINT32)]
    fit.define(1, 20, fields)
    for second in (0, 20, 10):
        fit.put(1, fields, (stamp(second),))
    return fit.file()


def absurd_fit(elapsed, moving, metres):
    fit = Fit()
    put_file_id(fit)
    put_session(fit, elapsed, moving, metres)
    return fit.file()


# XML.

def gpx(body, head=""):
    return ('<?xml version="1.0" encoding="UTF-8"?>\n' + head
            + '<gpx version="1.1" creator="invented" xmlns="http://www.topografix.com/GPX/1/1">\n'
            + body + "</gpx>\n")


def trkpt(point, second, time=True):
    stamp_text = f"<time>{instant(second)}</time>" if time else ""
    return f'    <trkpt lat="{point[0]:.7f}" lon="{point[1]:.7f}"><ele>3.2</ele>{stamp_text}</trkpt>\n'


def trk(segments, time=True, kind="<type>running</type>"):
    text = f"  <trk><name>invented</name>{kind}\n"
    for points in segments:
        text += "   <trkseg>\n" + "".join(trkpt(p, s, time) for p, s in points) + "   </trkseg>\n"
    return text + "  </trk>\n"


def seconds(points, first=0):
    return [(p, first + 10 * i) for i, p in enumerate(points)]


def two_segments():
    """27 steps, a pause of a minute, 14 steps."""
    points = track(43)
    return seconds(points[:28]), seconds(points[28:], 270 + 60)


TCX_HEAD = ('<?xml version="1.0" encoding="UTF-8"?>\n'
            '<TrainingCenterDatabase xmlns="http://www.garmin.com/xmlschemas/TrainingCenterDatabase/v2">\n')


def trackpoint(point, second, metres):
    distance = "" if metres is None else f"<DistanceMeters>{metres:.1f}</DistanceMeters>"
    return (f"     <Trackpoint><Time>{instant(second)}</Time><Position><LatitudeDegrees>{point[0]:.7f}"
            f"</LatitudeDegrees><LongitudeDegrees>{point[1]:.7f}</LongitudeDegrees></Position>{distance}"
            "</Trackpoint>\n")


def lap(first, duration, metres, points):
    distance = "" if metres is None else f"<DistanceMeters>{metres}</DistanceMeters>"
    return (f'   <Lap StartTime="{instant(first)}"><TotalTimeSeconds>{duration}</TotalTimeSeconds>{distance}'
            "<Intensity>Active</Intensity><TriggerMethod>Manual</TriggerMethod><Track>\n"
            + "".join(points) + "   </Track></Lap>\n")


def activity(laps, sport="Running"):
    return f'  <Activity Sport="{sport}"><Id>{instant(0)}</Id>\n' + "".join(laps) + "  </Activity>\n"


def tcx(activities):
    return TCX_HEAD + " <Activities>\n" + "".join(activities) + " </Activities>\n</TrainingCenterDatabase>\n"


def run_tcx():
    points = track(40)
    first = [trackpoint(p, 10 * i, 30.0 * i) for i, p in enumerate(points[:20])]
    second = [trackpoint(p, 260 + 10 * i, 600.0 + 30.0 * i) for i, p in enumerate(points[20:])]
    return tcx([activity([lap(0, "200.0", "1.6093E3", first), lap(260, 195.5, 790.66, second)])])


def positions_only_tcx(metres):
    points = [trackpoint(p, 10 * i, metres and metres * i) for i, p in enumerate(track(28))]
    return tcx([activity([lap(0, 270, None, points)])])


def bomb():
    """Entities of entities: ten to the ninth copies when expanded."""
    lines = ['<!DOCTYPE gpx [', '  <!ENTITY a "aaaaaaaaaa">']
    for before, after in zip("abcdefgh", "bcdefghi"):
        lines.append(f'  <!ENTITY {after} "{("&" + before + ";") * 10}">')
    return "\n".join(lines) + "\n]>\n"


def good_files():
    """Name: (bytes, what must be found)."""
    run = {"start": START, "sport": "running", "offset": None}
    gpx_segments = two_segments()
    gpx_metres = sum(length([p for p, _ in segment]) for segment in gpx_segments)
    files = {
        "run.fit": (activity_fit(), {"format": "FIT", "elapsed": 750, "moving": 720, "metres": 2520,
                                     "from": "total", "offset": -5 * 3600}),
        "records.fit": (records_only_fit(), {"format": "FIT", "elapsed": 600, "moving": 600, "metres": 1620,
                                             "from": "points", "sport": ""}),
        "positions.fit": (positions_only_fit(), {"format": "FIT", "elapsed": 270, "moving": 270, "sport": "",
                                                 "metres": length(track(28)), "from": "positions"}),
        "chained.fit": (chained_fit(), {"format": "FIT", "elapsed": 600, "moving": 600, "metres": 1800,
                                        "from": "total"}),
        "run.gpx": (gpx(trk(gpx_segments)), {"format": "GPX", "elapsed": 470, "moving": 410,
                                             "metres": gpx_metres, "from": "positions"}),
        "run.tcx": (run_tcx(), {"format": "TCX", "elapsed": 455.5, "moving": 395.5, "metres": 1609.3 + 790.66,
                                "from": "total"}),
        "points.tcx": (positions_only_tcx(30.0), {"format": "TCX", "elapsed": 270, "moving": 270,
                                                  "metres": 810, "from": "points"}),
        "positions.tcx": (positions_only_tcx(None), {"format": "TCX", "elapsed": 270, "moving": 270,
                                                     "metres": length(track(28)), "from": "positions"}),
    }
    return {name: (data, {**run, **found}) for name, (data, found) in files.items()}


def refused_files():
    whole = activity_fit()
    damaged = bytearray(whole)
    damaged[200] ^= 0x10
    three = seconds(track(3))
    return {
        "cut-off.fit": whole[:1000],
        "damaged.fit": bytes(damaged),
        "no-header.fit": b"\x0e\x20GARBAGE, not a header at all",
        "course.fit": course_fit(),
        "two-sessions.fit": two_sessions_fit(),
        "undefined.fit": undefined_fit(),
        "overlong.fit": overlong_fit(),
        "backwards.fit": backwards_fit(),
        "too-far.fit": absurd_fit(3600, 3600, 4_000_000),
        "too-long.fit": absurd_fit(200_000, 200_000, 5000),
        "no-time.fit": absurd_fit(0, 0, 5000),
        "odd-pauses.fit": absurd_fit(600, 900, 2000),
        "bomb.gpx": gpx(trk([three]).replace("invented", "&i;"), bomb()),
        "deep.gpx": gpx("<a>" * 40 + "</a>" * 40),
        "cut-off.gpx": gpx(trk([three]))[:400],
        "backwards.gpx": gpx(trk([[three[1], three[0], three[2]]])),
        "off-earth.gpx": gpx(trk([[((150.0, 0.0), 0), three[1]]])),
        "route.gpx": gpx(trk([three], time=False)),
        "no-track.gpx": gpx('  <wpt lat="30" lon="-40"/>\n'),
        "two-tracks.gpx": gpx(trk([three]) + trk([three])),
        "odd-time.gpx": gpx(trk([three]).replace("T06:00:10Z", "T06:00:61Z")),
        "two-activities.tcx": tcx([activity([lap(0, 60, 200, [])]), activity([lap(0, 60, 200, [])])]),
        "no-lap.tcx": tcx([activity([])]),
        "odd-number.tcx": tcx([activity([lap(0, "an hour", "-5", [])])]),
        "course.tcx": TCX_HEAD + " <Courses/>\n</TrainingCenterDatabase>\n",
        "page.gpx": "<html><body>Log in first</body></html>\n",
    }


def all_files():
    good = good_files()
    expected = {name: found for name, (_, found) in sorted(good.items())}
    files = {name: data for name, (data, _) in good.items()}
    files.update(refused_files())
    files["cycling.fit"] = cycling_fit()  # read, and asked about
    files["expected.json"] = json.dumps(expected, indent=1, sort_keys=True) + "\n"
    return {name: data.encode() if isinstance(data, str) else data for name, data in files.items()}


def main():
    check = sys.argv[1:] == ["--check"]
    different = 0
    for name, data in sorted(all_files().items()):
        path = FOLDER / name
        if not check:
            path.write_bytes(data)
        elif not path.is_file() or path.read_bytes() != data:
            print(f"{name} is not what this script makes")
            different += 1
    return 1 if different else 0


if __name__ == "__main__":
    sys.exit(main())
