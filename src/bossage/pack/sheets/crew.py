"""For a class or a crew: a list for each helper, everyone's blocks by name, a slip for everyone."""

from __future__ import annotations

from bossage.pack.crew import Share, deal, helper_groups
from bossage.pack.drawings.codes import codes_of
from bossage.pack.drawings.labels import back_label, label_pages
from bossage.pack.sheet import Column, Figure, Figures, Para, Part, Sheet, Steps, Table, Whole
from bossage.pack.sheets.common import cares, words_of
from bossage.pack.words import count_of
from bossage.plan import Plan


def helper_sheets(plan: Plan) -> list[Sheet]:
    """Who paints which blocks, a list for each helper; nothing without a crew."""
    if not plan.brief.crew.names:
        return []
    groups = helper_groups(plan)
    return [_helper_sheet(plan, number, group, len(groups)) for number, group in enumerate(groups, start=1)]


def names_sheet(plan: Plan) -> Sheet | None:
    """Find your block: everyone by name, for the wall beside the piece."""
    if not plan.brief.crew.names:
        return None
    shares = sorted(deal(plan), key=lambda share: share.name.casefold())
    most = max(len(share.blocks) for share in shares)
    rows, groups, last = [], [], ""
    for number, share in enumerate(shares):
        if share.name[:1].casefold() != last:
            groups.append(number)
            last = share.name[:1].casefold()
        places = [where(plan, block) for block in share.blocks]
        rows.append((share.name, *places, *[""] * (most - len(places))))
    return Sheet(
        name="names",
        title="Find your block",
        todo=(
            "Look for your name. Count rows from the top and blocks from the left: 7·12 is the seventh row, twelfth "
            "place."
        ),
        wrong="Your name is missing? Ask whoever made the list: an absent painter's blocks were painted by others.",
        parts=(
            Table(
                columns=(
                    Column(head="name", kind="figure", mm=62.0),
                    *(Column(head="block" if number == 0 else "and", kind="strong") for number in range(most)),
                ),
                rows=tuple(rows),
                groups=tuple(groups),
                tight=True,
            ),
        ),
    )


def slips_sheet(plan: Plan) -> Sheet | None:
    """A slip to stick on the back of each dealt block: whose it is, where it goes, which way is up."""
    if not plan.brief.crew.names:
        return None
    blocks = plan.layout.blocks
    said: list[tuple[str, tuple[str, ...], str]] = []
    for share in deal(plan):
        for block in share.blocks:
            leaf = plan.layout.leaves[int(blocks.leaf[block])].name
            address = blocks.address(block)
            several = len(plan.layout.leaves) > 1
            lines = (share.name, *([f"leaf {leaf}"] if several else []), plan.stamp)
            said.append((address, lines, ", ".join([address, "up", *lines])))
    codes = codes_of([words for _, _, words in said])
    labels = [back_label(*one, code) for one, code in zip(said, codes, strict=True)]
    pages = label_pages("Slips", labels, plan.brief.papers.labels, plan.brief.piece.paper)
    return Sheet(
        name="slips",
        title="Slips",
        todo="Print on stickers. Everyone sticks theirs on the bare back of their block, arrow up, before painting.",
        wrong="A slip has come off? The list of names says which block is whose.",
        parts=(
            Figures(
                items=(
                    Figure(value=f"{len(labels):,}", unit="", words="slips"),
                    Figure(value=str(len(pages)), unit="", words="sticker sheets"),
                )
            ),
            Steps(
                texts=(
                    "Give everyone their slips, and show them on the map where each block goes.",
                    "Slip on the bare back, arrow to the top; then paint faces and sides, never the back.",
                    "Before the glue, pencil the address on the wood and peel the slip: it goes home with the painter.",
                )
            ),
            *cares(plan, "paint"),
            *(Whole(drawing=page) for page in pages),
        ),
    )


def where(plan: Plan, block: int) -> str:
    """`left 7·12`; the leaf only where there are several."""
    blocks, layout = plan.layout.blocks, plan.layout
    leaf = layout.leaves[int(blocks.leaf[block])]
    copy = f"piece {leaf.copy} " if plan.brief.piece.copies > 1 else ""
    several = sum(other.copy == leaf.copy for other in layout.leaves) > 1
    return copy + (f"{leaf.name} " if several else "") + blocks.address(block)


def _helper_sheet(plan: Plan, number: int, group: list[Share], helpers: int) -> Sheet:
    words, blocks = words_of(plan), plan.layout.blocks
    rows: list[tuple[str, ...]] = []
    groups: list[int] = []
    for share in group:
        groups.append(len(rows))
        for turn, block in enumerate(share.blocks):
            shade = plan.fade.shades[int(plan.fade.shade[block])]
            note = "instead of somebody absent" if block in share.taken_over else ""
            rows.append(
                (
                    share.name if turn == 0 else "",
                    where(plan, block),
                    words.bare(plan.relief.levels_nm[int(plan.relief.level[block])]),
                    shade.name,
                    note,
                    "",
                    "",
                )
            )
    total = sum(len(share.blocks) for share in group)
    absent = plan.brief.crew.absent
    parts: list[Part] = [
        *cares(plan, "sand", "paint"),
        Figures(
            items=(
                Figure(value=str(len(group)), unit="", words="painters"),
                Figure(value=str(total), unit="", words="blocks"),
                Figure(value=str(blocks.count), unit="", words="blocks in the piece"),
            )
        ),
        Table(
            columns=(
                Column(head="name", kind="strong"),
                Column(head="block", kind="strong"),
                Column(head=f"level, {words.unit}", align="right"),
                Column(head="shade"),
                Column(kind="small", wide=True),
                Column(head="painted", kind="tick"),
                Column(head="dry", kind="tick"),
            ),
            rows=tuple(rows),
            groups=tuple(groups),
            tight=True,
        ),
    ]
    if absent:
        parts.append(
            Para(lead=f"{count_of(len(absent), 'painter')} absent:", text=", ".join(absent) + ". No other block moved.")
        )
    return Sheet(
        name="helpers",
        title="Who paints what" + (f", helper {number} of {helpers}" if helpers > 1 else ""),
        todo=(
            "Sawing is for adults. Give everyone their blocks with the slip on the back; tick when a block is painted "
            "and when it is dry."
        ),
        wrong=(
            "Somebody is away today? Write the name under absent in the brief and plan again: only that name's blocks "
            "go to others."
        ),
        parts=tuple(parts),
    )
