"""Another bin out of a bin, counted by hand."""

from cogwright.core.parts.bin import Bin, CassettePart, CogPart
from cogwright.core.parts.changed import KINDS, kind_of, model_of, priced, with_part, without_part

COG = CogPart(name="cog 22", teeth=22, price=5.5, count=2)
OTHER = CogPart(name="cog 24", teeth=24)
STOCK = Bin(name="Two drawers", cogs=(COG, OTHER))


def test_every_list_of_parts_has_its_kind() -> None:
    lists = {name for name, field in Bin.model_fields.items() if str(field.annotation).startswith("tuple")}
    assert set(KINDS) == lists
    assert model_of("cassettes") is CassettePart


def test_a_part_is_put_in_changed_and_taken_out_and_the_rest_stays() -> None:
    new = CogPart(name="cog 26", teeth=26)
    assert with_part(STOCK, "cogs", new).cogs == (COG, OTHER, new)
    assert with_part(STOCK, "cogs", new, COG).cogs == (new, OTHER)
    assert without_part(STOCK, "cogs", COG).cogs == (OTHER,)
    assert STOCK.cogs == (COG, OTHER)


def test_a_price_is_given_and_taken_away() -> None:
    assert kind_of(STOCK, OTHER) == "cogs"
    dearer = priced(STOCK, OTHER, 6.25)
    assert [part.price for part in dearer.cogs] == [5.5, 6.25]
    assert priced(dearer, dearer.cogs[1], None) == STOCK
