"""What becomes of the chain: kept, shortened, or replaced for its length, its width or its make."""

from collections.abc import Iterator
from dataclasses import replace

from cogwright.core.common.words import count
from cogwright.core.figures import Figures
from cogwright.core.fit.chain import width_band
from cogwright.core.fit.check import Status
from cogwright.core.fit.joints import chain_cogs
from cogwright.core.parts import search
from cogwright.core.parts.bin import Bin, ChainPart
from cogwright.core.setup.differences import known_to_differ
from cogwright.core.setup.model import Chain, Setup
from cogwright.core.setup.renewed import chain_renewed
from cogwright.core.worksheet.sheet import Change, Item, Job, Source, off_bike, onto_bike


def chain_change(figures: Figures, baseline: Setup, stock: Bin) -> Iterator[Change]:
    """The chain's or the belt's job, if there is one. A chain that has become too short appears by itself."""
    if figures.bench.belted or baseline.belted:
        yield from _belt_change(figures, baseline, stock)
        return
    have = baseline.chain.links if baseline.chain.links is not None else figures.bench.chain.links
    want = wanted_links(figures, have)
    longer = want is not None and have is not None and want > have
    if longer or cannot_stay(figures, baseline):
        yield _new(figures, baseline, stock)
    elif want is not None and have is not None and want < have:
        joint = onto_bike("chain joint", search.small(stock, "chain joint"), "never the old pin again")
        cut = figures.bench.chain.model_copy(update={"links": want})
        yield Change(Job.CUT_CHAIN, on=(joint,), to=f"{want} links, {have - want} out", chain=cut)


def _belt_change(figures: Figures, baseline: Setup, stock: Bin) -> Iterator[Change]:
    """Another belt, a belt for a chain, or a chain for a belt."""
    had, belt = baseline.belt, figures.bench.belt
    off = (off_bike(_belt_name(baseline)),) if baseline.belted else (_old(baseline, stock),)
    if not figures.bench.belted:
        yield replace(_new(figures, baseline, stock), off=off)
    elif not baseline.belted or known_to_differ(had, belt, "teeth", "pitch_mm"):
        part = search.belt(stock, belt.teeth, belt.pitch_mm) if belt.teeth is not None else None
        name = _belt_name(figures.bench)
        yield Change(Job.BELT, off, (onto_bike(name, part, "see that the frame opens for it"),), name)


def _belt_name(setup: Setup) -> str:
    teeth, pitch = setup.belt.teeth, setup.belt.pitch_mm
    length = "length to be found on the bike" if teeth is None else f"{teeth} teeth"
    return f"belt, {length}" + ("" if pitch is None else f" of {pitch:g} mm")


def wanted_links(figures: Figures, have: int | None) -> int | None:
    """Pitches that the chain should have on the bench; None when nobody can say.

    Those of the chain that is there, unless the bench's file asks for others; by the rule where these are
    too few, must be cut, or ask for more than the axle has.
    """
    said = figures.bench.chain.links if figures.bench.chain.links is not None else have
    of = with_links(figures.bench, said)
    chain = of.chain
    if said is None or chain.fit_pitches is None:
        return said
    beyond = of.axle is not None and of.axle.reachable is False
    return chain.fit_pitches if chain.short_by or beyond or chain.cut_to is not None else said


def new_links(figures: Figures, had: int | None) -> int | None:
    """To how many pitches a new chain is cut: by the rule, never to the old chain's length.

    A number that the bench's file gives as its own counts where it keeps the rule; None when nobody can say.
    """
    said, fit = figures.bench.chain.links, figures.chain.fit_pitches
    own = said if said != had else None
    if fit is None or own is None:
        return own if fit is None else fit
    kept = own % 2 == 0 and wanted_links(figures, own) == own
    return own if kept and own >= fit else fit


def with_links(bench: Setup, links: int | None) -> Figures:
    """A bench with a chain of so many pitches."""
    return Figures(bench.model_copy(update={"chain": bench.chain.model_copy(update={"links": links})}))


def cannot_stay(figures: Figures, baseline: Setup) -> bool:
    """Whether the chain on the bike goes, whatever its length: a new one is asked for, or no other fits."""
    return (
        chain_renewed(baseline, figures.bench)
        or _made_for_others(figures.bench, baseline)
        or needs_other_width(figures, baseline)
    )


def _made_for_others(bench: Setup, baseline: Setup) -> bool:
    """Whether the chain on the bike is made for another number of cogs than the bench has."""
    old = Figures(bench.model_copy(update={"chain": baseline.chain}), baseline)
    check = chain_cogs(old)
    return check is not None and check.status is Status.PROBLEM


def needs_other_width(figures: Figures, baseline: Setup) -> bool:
    """Whether the chain on the bike is of the wrong width for the bench's cogs, or another is asked for."""
    had, said = baseline.chain.outer_width_mm, figures.bench.chain.outer_width_mm
    if had is not None and said is not None and had != said:
        return True
    now, before = width_band(figures.bench), width_band(baseline)
    if now is None or len(figures.bench.rear.cogs) == 1:
        return False
    if len(figures.bench.rear.cogs) == len(baseline.rear.cogs):
        return had is not None and had > now[1] + 1e-6
    return before != now if had is None else not _within(had, now)


def _within(width_mm: float, band: tuple[float, float]) -> bool:
    return band[0] - 1e-6 <= width_mm <= band[1] + 1e-6


def _width_wanted(figures: Figures) -> tuple[float, float] | None:
    """The width of a new chain: the bench's own, unless its cogs forbid that one."""
    said, band = figures.bench.chain.outer_width_mm, width_band(figures.bench)
    return (said, said) if said is not None and (band is None or _within(said, band)) else band


def _new(figures: Figures, baseline: Setup, stock: Bin) -> Change:
    links = new_links(figures, baseline.chain.links)
    width = _width_wanted(figures)
    part = search.chain(stock, links or 1, width, len(figures.bench.rear.cogs))
    length = f"{links} links" if links else "length to be found on the bike"
    wide = f", {' to '.join(f'{w:g}' for w in sorted(set(width)))} mm wide" if width else ""
    note = "; ".join([*_cut_words(part, links), *_short_words(figures, baseline)])
    on = onto_bike(f"chain, {length}{wide}", part, note)
    chain = Chain(links=links, outer_width_mm=_width_of(part, width), cogs=part.cogs if part else None)
    return Change(Job.NEW_CHAIN, (_old(baseline, stock),), (_cut(on, part, links),), length, chain)


def _cut_words(part: ChainPart | None, links: int | None) -> list[str]:
    longer = part is not None and links is not None and part.links > links
    return [f"cut from {part.links} links"] if part and longer else []


def _short_words(figures: Figures, baseline: Setup) -> list[str]:
    """By how much the old chain is too short for the new sprockets."""
    short = with_links(figures.bench, baseline.chain.links).chain.short_by
    return [f"the old one is {count(short, 'link')} short"] if short else []


def _width_of(part: ChainPart | None, width: tuple[float, float] | None) -> float | None:
    """The new chain's own width; that of the narrowest that would do where no part says one."""
    if part is not None and part.outer_width_mm is not None:
        return part.outer_width_mm
    return width[0] if width else None


def _cut(item: Item, part: ChainPart | None, links: int | None) -> Item:
    """The new chain's mass once it is cut."""
    if part is None or item.mass_g is None or links is None:
        return item
    return replace(item, mass_g=round(item.mass_g * links / part.links, 1))


def _old(baseline: Setup, stock: Bin) -> Item:
    links = baseline.chain.links
    if links is None:
        return off_bike("chain")
    part = search.chain(stock, 1, width_band(baseline), len(baseline.rear.cogs))
    mass = round(part.mass_g * links / part.links, 1) if part and part.mass_g is not None else None
    return Item(f"chain, {links} links", Source.OFF, mass_g=mass)
