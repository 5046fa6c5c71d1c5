"""A stream of a narrow encoding shows stand-ins for what it lacks; another one shows everything."""

from __future__ import annotations

from io import BytesIO, TextIOWrapper

import pytest

from eggfold.tasks.surroundings import soften


@pytest.mark.parametrize(
    ("encoding", "shown"),
    [
        ("utf-8", "m² – é"),
        ("UTF8", "m² – é"),
        ("latin-1", "m² - é"),
        ("cp437", "m² - é"),
        ("ascii", "m2 - ?"),
    ],
)
def test_a_stream_shows_what_it_can(encoding: str, shown: str) -> None:
    kept = BytesIO()
    stream = TextIOWrapper(kept, encoding, write_through=True)
    soften(stream)
    stream.write("m² – é")
    assert kept.getvalue() == shown.encode(encoding)


def test_no_stand_ins_are_made_where_nothing_is_lacking() -> None:
    stream = TextIOWrapper(BytesIO(), "utf-8")
    soften(stream)
    assert (stream.encoding, stream.errors) == ("utf-8", "strict")
