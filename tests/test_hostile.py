"""Every reader given files that chance has spoiled: each is read, or refused with an InputError, and nothing else.

A spoiled file is a good one with some of its lines, values or bytes changed for others that have made readers
stumble.
"""

from __future__ import annotations

from random import Random

import pytest

from countersunk import shared
from countersunk.model.checks.rules import read_rules
from countersunk.model.errors import InputError
from countersunk.model.kitchen import read_kitchen
from countersunk.takeoff.counting.labour import load_labour
from countersunk.takeoff.counting.terms import load_terms
from countersunk.takeoff.plans.cut_lists import read_cut_list
from countersunk.takeoff.stock.offcuts import read_offcuts
from countersunk.takeoff.stock.prices import price_book
from countersunk.takeoff.stock.suppliers import import_list
from countersunk.viewer.app.address import opened
from tests.lanes import examples

SPOILED = examples(large=1_000, default=6)

KITCHEN = b"""kitchen: Specimen
room:
  walls:
    - {name: A, length: 3000, corner: 90}
    - {name: B, length: 2500}
runs:
  - wall: A
    start: 500
    units:
      - {unit: base-doors, width: 400}
      - {unit: base-sink, width: 600}
worktop: {stock: pf38.600, decor: pale-oak}
fronts: {decor: chalk}
cutouts:
  - {template: sink.one-bowl, over: A2}
"""
PIECES = b"id,length,quantity\na,900,3\nb,1200,2\n"
STOCK = b"id,length,price,quantity\nbar,3000,12.50,\n"
ADDRESS = (
    b"eNpVkE1uhDAMhe_iNSA6MFWbXecKXVajKhM8BRFilJ-iCnH32jBFdOf4fX559gyGkovoQ3I9qFMGfRdNiw4UvI9ouoHLDDzRAGqG"
    b"SVsbQH3M4PSAzLyxaNF9xRZUVZZlUWbs6B16UK_8WrIdvRzQ01nQ5bqwdXKbo3g_HEPUPoI6b349_nDf50-sJNfFDZeK2zcdMG-I"
    b"fGB16hpxr49zKT-BpDjyoeNld_z5P14B57qySr6PNMraIZLh68B4r14Kxnm2QV5TWtpiTrrnP-DuyUm6eVdNq-0qmRQpPZJHHEar"
    b"o9xEghTkML_RZNmVvuVwa4i_QCavQeJYHeLn2qqXX6EEh4E"
)
"""The same kitchen as the app puts it into an address."""

OFFCUTS = b"id,material,decor,length,width,quantity\no1,pb18,,900,400,1\n"

NASTY = (
    b"nan", b"-0", b"1e308", b"-1e400", b"9" * 310, b"0x10", b"1_000", b"\xff\xfe", b"\x00", b"\x1b[2J",
    b"\xe2\x80\xae", b"=1+1", b"null", b"true", b"[]", b"{}", b"{a: 1}", b"[1, [2, [3]]]",
    b"!!python/object:os.system", b"&a", b"*a", b"'", b'"', b'"\\UFFFFFFFF"', b"2026-13-45", b"9999-12-31",
    b"~", b"<<: x", b"---", b"...", b"\t", b"\r", b",,,,", b"\xf0\x9f\xaa\x9a", b"<script>",
    b"../../etc/passwd", b"0.0000000000001", b"5 1/0\"", b"23 5/8\"", b"1;2", b"%",
)  # fmt: skip


def spoiled(luck: Random, raw: bytes) -> bytes:
    """A file with one to four things changed."""
    for _ in range(luck.randint(1, 4)):
        lines = raw.split(b"\n")
        at = luck.randrange(len(lines))
        words = lines[at].replace(b",", b" , ").replace(b":", b" : ").split(b" ")
        match luck.randrange(7):
            case 0:
                words[luck.randrange(len(words))] = luck.choice(NASTY)
                lines[at] = b" ".join(words)
            case 1:
                lines[at] = lines[luck.randrange(len(lines))]
            case 2:
                del lines[at]
            case 3:
                lines.insert(at, luck.choice(NASTY))
            case 4:
                cut = luck.randrange(len(lines[at]) + 1)
                lines[at] = lines[at][:cut] + luck.choice(NASTY) + lines[at][cut:]
            case 5:
                lines[at] = bytes(luck.randrange(256) if luck.random() < 0.05 else b for b in lines[at])
            case _:
                lines = lines[: at + 1]
        raw = b"\n".join(lines)
    return raw


def by_path(read):
    """A reader of bytes from one that takes a path."""

    def of(raw, folder):
        path = folder / "file"
        path.write_bytes(raw)
        return read(path)

    return of


def beside(path, name, raw):
    """Another file in the same folder."""
    other = path.with_name(name)
    other.write_bytes(raw)
    return other


READERS = {
    "kitchen": (KITCHEN, lambda raw, _: read_kitchen(raw, "k.yaml")),
    "prices": (b"\n".join((shared.PRICES / "demo.csv").read_bytes().split(b"\n")[:12]),
               lambda raw, _: price_book(raw, "p.csv")),
    "terms": ((shared.PRICES / "terms.yaml").read_bytes(), by_path(load_terms)),
    "labour": ((shared.RULES / "labour.yaml").read_bytes(), by_path(load_labour)),
    "rules": ((shared.RULES / "checks" / "us.yaml").read_bytes(), by_path(read_rules)),
    "offcuts": (OFFCUTS, by_path(read_offcuts)),
    "pieces": (PIECES, by_path(lambda path: read_cut_list(path, beside(path, "stock", STOCK), "4", "10"))),
    "stock": (STOCK, by_path(lambda path: read_cut_list(beside(path, "pieces", PIECES), path, "4", "10"))),
    "supplier's list": ((shared.SUPPLIERS / "list.csv").read_bytes(),
                        by_path(lambda path: import_list(path, shared.SUPPLIERS / "mapping.yaml"))),
    "mapping": ((shared.SUPPLIERS / "mapping.yaml").read_bytes(),
                by_path(lambda path: import_list(shared.SUPPLIERS / "list.csv", path))),
    "address": (ADDRESS,
                lambda raw, _: opened({"kitchen": raw.decode("latin-1")})),
}  # fmt: skip


@pytest.mark.parametrize("name", READERS)
def test_a_good_file_is_read(name, tmp_path):
    good, read = READERS[name]
    assert read(good, tmp_path) is not None


@pytest.mark.parametrize("name", READERS)
def test_a_spoiled_file_is_read_or_refused(name, tmp_path):
    good, read = READERS[name]
    luck = Random(name)
    for raw in (spoiled(luck, good) for _ in range(SPOILED)):
        try:
            read(raw, tmp_path)
        except InputError as error:
            told = str(error)
            assert told
            assert not any(letter < " " and letter != "\n" for letter in told), raw
        except Exception as error:
            raise AssertionError(f"{type(error).__name__}: {error} for {raw!r}") from error
