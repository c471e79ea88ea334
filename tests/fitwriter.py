"""FIT files for the tests, written by the published protocol: header, definitions, records, check sum."""

import math
import struct
from collections.abc import Iterable, Mapping, Sequence

#: Seconds from 1970 to the protocol's own epoch, 31 December 1989 UTC.
EPOCH = 631_065_600
#: Fields of the record message (global number 20): number, base type, struct code, scale, offset, invalid.
RECORD = {
    "timestamp": (253, 0x86, "I", 1, 0, 0xFFFFFFFF),
    "position_lat": (0, 0x85, "i", 2**31 / 180.0, 0, 0x7FFFFFFF),
    "position_long": (1, 0x85, "i", 2**31 / 180.0, 0, 0x7FFFFFFF),
    "altitude": (2, 0x84, "H", 5, 500, 0xFFFF),
    "cadence": (4, 0x02, "B", 1, 0, 0xFF),
    "distance": (5, 0x86, "I", 100, 0, 0xFFFFFFFF),
    "speed": (6, 0x84, "H", 1000, 0, 0xFFFF),
    "fractional_cadence": (53, 0x02, "B", 128, 0, 0xFF),
    "enhanced_speed": (73, 0x86, "I", 1000, 0, 0xFFFFFFFF),
    "enhanced_altitude": (78, 0x86, "I", 5, 500, 0xFFFFFFFF),
}
_TABLE = [
    0x0000, 0xCC01, 0xD801, 0x1400, 0xF001, 0x3C00, 0x2800, 0xE401,
    0xA001, 0x6C00, 0x7800, 0xB401, 0x5000, 0x9C01, 0x8801, 0x4400,
]  # fmt: skip


def crc(data: bytes) -> int:
    """The protocol's check sum, four bits at a time."""
    value = 0
    for byte in data:
        for part in (byte & 0xF, byte >> 4):
            value = (value >> 4) & 0x0FFF ^ _TABLE[value & 0xF] ^ _TABLE[part]
    return value


def fit_file(moments: Iterable[Mapping[str, float]], fields: Sequence[str], big: bool = False) -> bytes:
    """A FIT file of record messages with these fields; what a moment lacks, or nan, is the invalid value."""
    order = ">" if big else "<"
    definition = bytes([0x40, 0, int(big)]) + struct.pack(order + "H", 20) + bytes([len(fields)])
    for name in fields:
        number, base, code, *_ = RECORD[name]
        definition += bytes([number, struct.calcsize(code), base])
    body = definition + b"".join(_record(moment, fields, order) for moment in moments)
    header = struct.pack("<BBHI4s", 14, 0x20, 2132, len(body), b".FIT")
    header += struct.pack("<H", crc(header))
    return header + body + struct.pack("<H", crc(header + body))


def _record(moment: Mapping[str, float], fields: Sequence[str], order: str) -> bytes:
    row = b"\x00"
    for name in fields:
        _, _, code, scale, offset, invalid = RECORD[name]
        value = moment.get(name, math.nan)
        raw = invalid if math.isnan(value) else round((value + offset) * scale)
        row += struct.pack(order + code, raw)
    return row
