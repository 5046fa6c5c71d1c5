"""Links between README and docs lead somewhere, and every page is reached from the index."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from repository.fences import read_blocks
from running import ROOT

DOCS = ROOT / "docs"
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted(DOCS.rglob("*.md"))]
PICTURES = sorted(DOCS.rglob("*.svg")) + sorted(DOCS.rglob("*.png"))

_LINK = re.compile(r"\]\(([^)\s]+)\)")
_FENCED = re.compile(r"^```.*?^```$", re.MULTILINE | re.DOTALL)
_CODE = re.compile(r"`[^`\n]*`")
_ELSEWHERE = re.compile(r"[a-z]+:")


def links_of(page: Path) -> Iterator[str]:
    """Yield the targets of a page's links that stay in the repository."""
    prose = _CODE.sub("", _FENCED.sub("", page.read_text("utf-8")))
    return (link for link in _LINK.findall(prose) if not _ELSEWHERE.match(link))


def target_of(page: Path, link: str) -> Path:
    """Return the file that a link leads to; a link to a heading leads to its page."""
    name, _, _ = link.partition("#")
    return (page.parent / name).resolve() if name else page


def anchors_of(page: Path) -> set[str]:
    """Return the headings of a page as they are linked to."""
    headings = re.findall(r"^#+ (.+)$", _FENCED.sub("", page.read_text("utf-8")), re.MULTILINE)
    return {re.sub(r"[^\w -]", "", h.casefold()).strip().replace(" ", "-") for h in headings}


def below(page: Path) -> Iterator[Path]:
    """Yield the pages that a page's tables of contents name."""
    for block in read_blocks(page):
        if block.language == "{toctree}":
            names = [line for line in block.text.splitlines() if not line.startswith(":")]
            yield from (page.parent / f"{name}.md" for name in names)


def contents() -> set[Path]:
    """Return the index and every page that its tables of contents lead to."""
    reached, waiting = set[Path](), [DOCS / "index.md"]
    while waiting:
        page = waiting.pop()
        if page not in reached:
            reached.add(page)
            waiting += below(page)
    return reached


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_links_lead_somewhere(page: Path) -> None:
    for link in links_of(page):
        target = target_of(page, link)
        assert target.is_relative_to(ROOT), link
        assert target.exists(), link
        _, _, anchor = link.partition("#")
        assert not anchor or anchor in anchors_of(target), link


def test_every_page_is_in_the_contents() -> None:
    assert contents() == set(DOCS.rglob("*.md"))


def test_every_picture_is_shown() -> None:
    shown = {target_of(page, link) for page in PAGES for link in links_of(page)}
    assert PICTURES
    assert set(PICTURES) <= shown
