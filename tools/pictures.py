"""Makes the pictures of the README from the project's own papers: `make pictures`.

Pages are drawn from the packs' PDFs, so a picture shows what a maker gets. Pictures are kept small: 8-bit palettes.
"""

from __future__ import annotations

import io
from pathlib import Path

import pypdfium2
from PIL import Image

from bossage.brief import read_brief
from bossage.pack import pack_files
from bossage.plan import Plan, make_plan

ROOT = Path(__file__).resolve().parents[1]
PICTURES = ROOT / "docs" / "pictures"
WIDTH_PX = 900
# picture -> example, and words that its page begins with
PAGES = {
    "first-page": ("s2-brenlow-terrace", "Brenlow terrace"),
    "map": ("s2-brenlow-terrace", "Map"),
    "press-cards": ("s2-brenlow-terrace", "Press cards"),
    "saw-sheet": ("s1-fernhollow-hall", "Saw: 4x4"),
}


def main() -> None:
    """Plan the examples, draw the pages, and write every picture."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    packs = {example: papers(example) for example, _ in PAGES.values()}
    for name, (example, begins) in PAGES.items():
        save(page_that_begins(packs[example]["pack.pdf"], begins), name)
    with Image.open(io.BytesIO(packs["s2-brenlow-terrace"]["picture.png"])) as picture:
        save(picture.convert("RGB"), "brenlow-terrace")


def papers(example: str) -> dict[str, bytes]:
    """All papers of one example."""
    plan = make_plan(read_brief((ROOT / "examples" / f"{example}.toml").read_text(encoding="utf-8")))
    if not isinstance(plan, Plan):
        raise SystemExit(f"{example} cannot be planned: {plan.reason}")
    return pack_files(plan)


def page_that_begins(pdf: bytes, begins: str) -> Image.Image:
    """The first page whose text begins with these words."""
    for page in pypdfium2.PdfDocument(pdf):
        if page.get_textpage().get_text_range().lstrip().startswith(begins):
            drawn: Image.Image = page.render(scale=WIDTH_PX / page.get_width()).to_pil()
            return drawn
    raise SystemExit(f"No page begins with “{begins}”.")


def save(picture: Image.Image, name: str) -> None:
    """Write one picture, at most WIDTH_PX wide."""
    picture.thumbnail((WIDTH_PX, 2 * WIDTH_PX))
    small = picture.convert("RGB").quantize(colors=200, dither=Image.Dither.NONE)
    small.save(PICTURES / f"{name}.png", optimize=True)
    print(f"docs/pictures/{name}.png")


if __name__ == "__main__":
    main()
