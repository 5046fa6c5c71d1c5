"""Options that the two plans share: the formats of every page, and a calendar."""

from __future__ import annotations

import click

from eggfold.commands.completion import complete_words
from eggfold.commands.display import display_options
from eggfold.commands.option_types import read_output, read_plan_format
from eggfold.commands.options import (
    additives_option,
    bench_option,
    notes_options,
    several,
    shelf_option,
    why_option,
    writing_options,
)

plan_options = several(
    additives_option,
    bench_option,
    notes_options,
    shelf_option,
    click.option(
        "--format",
        "form",
        callback=read_plan_format,
        metavar="[text|json|csv|markdown|html|pdf|ics]",
        shell_complete=complete_words,
        help="How the answer is written; ics is a calendar.",
    ),
    click.option(
        "--output",
        callback=read_output,
        metavar="PATH",
        help="A file, or a folder to put one into (a/ or a).",
    ),
    writing_options,
    why_option,
    display_options,
)
