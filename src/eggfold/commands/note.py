"""``eggfold note``: what the scale said, what was rolled, bagged, counted, fished and bought."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.completion import (
    complete_campaigns,
    complete_files,
    complete_items,
    complete_recipes,
)
from eggfold.commands.options import (
    Command,
    additives_option,
    altitude_option,
    date_option,
    egg_option,
    format_option,
    read_day,
    several,
    shelf_option,
    sized_strength_option,
    strength_option,
)


def _in_words(
    _context: click.Context, _amount: click.Parameter, words: tuple[str, ...]
) -> str | None:
    """Return an amount that a shell handed over in words, as ``450 g``."""
    return " ".join(words) or None


_notebook_option = click.option(
    "--notebook",
    metavar="FILE",
    help="The notebook to write into.",
    shell_complete=complete_files,
)
_dry_run_option = click.option(
    "--dry-run", is_flag=True, help="Show what would change and write nothing."
)
_kept_options = several(date_option, _dry_run_option, format_option)
_undo_option = click.option("--undo", is_flag=True, help="Undo the last note of this kind.")
_eggs_option = click.option("--eggs", metavar="N", help="Eggs in the bowl.")
_bag_options = several(
    egg_option,
    click.option(
        "--liquid", metavar="AMOUNT", help="Beaten egg that went in, where it was poured."
    ),
    click.option(
        "--before", "--tub", "before", metavar="AMOUNT", help="The bag or tub of base mix before."
    ),
    click.option(
        "--after", "--left", "after", metavar="AMOUNT", help="What was left in it afterwards."
    ),
    click.option(
        "--scale", metavar="AMOUNT", help="The smallest step of the scale; 1 g if left out."
    ),
)


@click.group()
def note() -> None:
    """Write into the notebook and the shelf.

    \b
    eggfold note weighed osierfen-caraway.yaml --eggs 1 --before 900g --after 768g
    eggfold note fished recipes/osierfen-caraway.yaml --rods 3 --hours 8 --takes 2
    """


@note.command(cls=Command)
@click.argument("recipe", required=False, shell_complete=complete_recipes)
@_eggs_option
@strength_option
@_bag_options
@_undo_option
@_notebook_option
@additives_option
@_kept_options
def weighed(**given: Any) -> int:
    """Note what a bowl took out of the bag.

    Nothing is taken off the shelf. Without --as it was made with hookbait doses.

    \b
    eggfold note weighed osierfen-caraway.yaml --eggs 1 --before 900g --after 768g
    eggfold note weighed osierfen-millet.yaml --eggs 1 --before 1kg --after 868g
    """
    from eggfold.tasks.note import weigh

    return weigh(given)


@note.command(cls=Command)
@click.argument("recipe", required=False, shell_complete=complete_recipes)
@_eggs_option
@sized_strength_option
@_bag_options
@click.option("--finished", metavar="AMOUNT", help="What all the baits weigh, dried.")
@click.option("--hundred", metavar="AMOUNT", help="What a hundred baits weigh, freshly rolled.")
@click.option("--diameter", metavar="SIZE", help="The size of those hundred.")
@click.option("--sizes", metavar="SIZE,...", help="Rolled to other sizes than the recipe's.")
@_undo_option
@click.option("--force", is_flag=True, help="Take more than is left: the shelf was wrong.")
@_notebook_option
@shelf_option
@additives_option
@_kept_options
def rolled(**given: Any) -> int:
    """Note a bowl you rolled, and take what went into it off the shelf.

    \b
    eggfold note rolled recipes/osierfen-caraway.yaml --eggs 3 --as freebie
    eggfold note rolled osierfen-caraway.yaml --eggs 1 --tub 150g --left 18g
    eggfold note rolled recipes/osierfen-caraway.yaml --eggs 1 --finished 184g
    eggfold note rolled --undo --notebook recipes/notebook.yaml
    """
    from eggfold.tasks.note import roll

    return roll(given)


@note.command(cls=Command)
@click.argument("recipe", required=False, shell_complete=complete_recipes)
@click.option("--diameter", metavar="SIZE", help="The bait, as in 16mm.")
@click.option("--after", metavar="TIME", help="How long it was in the pan, as in 70s.")
@click.option("--raw", is_flag=True, help="There was a raw, shiny core.")
@click.option("--set", "set_through", is_flag=True, help="It was set through.")
@strength_option
@click.option("--start", metavar="TEMPERATURE", help="Paste before the boil, as in 20degC.")
@altitude_option
@_undo_option
@_notebook_option
@additives_option
@_kept_options
def cut(**given: Any) -> int:
    """Note two baits cut open: raw inside, or set through.

    The boiling times of this mix follow what was seen.

    \b
    eggfold note cut osierfen-caraway.yaml --diameter 20mm --after 110s --set
    eggfold note cut osierfen-caraway.yaml --diameter 14mm --after 45s --raw
    """
    from eggfold.tasks.note import cut_open

    return cut_open(given)


@note.command(cls=Command)
@click.argument("recipe", required=False, shell_complete=complete_recipes)
@click.option("--rods", metavar="N", help="Rods on this mix.")
@click.option("--hours", metavar="H", help="Hours they were out.")
@click.option("--takes", metavar="N", help="Takes on this mix; none is 0.")
@click.option("--water", metavar="TEMPERATURE", help="The water, as in 12degC.")
@click.option("--swim", metavar="TEXT", help="Where it was fished.")
@click.option("--remark", metavar="TEXT", help="Anything else worth keeping.")
@_undo_option
@_notebook_option
@_kept_options
def fished(**given: Any) -> int:
    """Note a session: rods, hours and takes on one mix.

    \b
    eggfold note fished recipes/osierfen-caraway.yaml --rods 3 --hours 8 --takes 2
    eggfold note fished recipes/osierfen-millet.yaml --rods 2 --hours 5 --takes 0
    """
    from eggfold.tasks.note import fish

    return fish(given)


@note.command(cls=Command)
@click.argument("recipe", required=False, shell_complete=complete_recipes)
@click.argument("amount", nargs=-1, metavar="[AMOUNT]", callback=_in_words)
@strength_option
@click.option("--fresh", is_flag=True, help="It stays fresh, out of the freezer.")
@click.option("--dried", is_flag=True, help="It was dried on, to keep out of the freezer.")
@_undo_option
@_notebook_option
@shelf_option
@_kept_options
def bagged(**given: Any) -> int:
    """Note what dried bait weighs as it is bagged.

    It goes into the freezer, unless --fresh or --dried. No eggs are taken off the shelf: note rolled
    did that.

    \b
    eggfold note bagged caraway 6.2kg
    eggfold note bagged caraway 240 --as hookbait
    """
    from eggfold.tasks.note_stock import bag

    return bag(given)


@note.command(cls=Command)
@click.argument("baits", nargs=-1, metavar="[BAIT=AMOUNT]...", shell_complete=complete_recipes)
@click.option("--rest-none", is_flag=True, help="There is no bait but this.")
@_undo_option
@_notebook_option
@shelf_option
@_kept_options
def count(**given: Any) -> int:
    """Note how much bait is there today.

    It beats all that was noted before. An amount is a weight, about so much, a number of baits or none.

    \b
    eggfold note count stillwater=3.5kg "caraway hookbait=240"
    eggfold note count "caraway=about 3 kg" --rest-none
    """
    from eggfold.tasks.note_stock import count as count_baits

    return count_baits(given)


@note.command(cls=Command)
@click.argument("plan", required=False, shell_complete=complete_campaigns)
@click.argument("trip", required=False)
@click.option(
    "--home",
    multiple=True,
    metavar="BAIT=AMOUNT",
    help="What came home, thawed, as in caraway=2kg; nothing if left out.",
)
@_undo_option
@_notebook_option
@shelf_option
@_kept_options
def trip(**given: Any) -> int:
    """Note a trip: what it took, and what came home.

    What was planned for it leaves the freezer, oldest bait first. TRIP is its day or any part of its
    name; the last that left if you do not say.
    """
    from eggfold.tasks.note_plan import travel

    return travel(given)


@note.command(cls=Command)
@click.argument("item", required=False, shell_complete=complete_items)
@click.argument("amount", nargs=-1, metavar="[AMOUNT]", callback=_in_words)
@click.option("--price", metavar="PRICE", help="What it cost, as in 4.20 or '4.20 EUR'.")
@click.option(
    "--use-by",
    callback=read_day,
    metavar="DATE",
    help="The date on the pack; of a plan, on the eggs.",
)
@_undo_option
@_notebook_option
@shelf_option
@_kept_options
def bought(**given: Any) -> int:
    """Note what you bought, and put it on the shelf.

    Of a plan it is all that the plan says to buy next. A price is remembered as a pack of that size.

    \b
    eggfold note bought "Malt syrup" 450g --price 3.60 --shelf recipes/shelf.yaml
    eggfold note bought "EU large eggs" 30 --shelf recipes/shelf.yaml
    eggfold note bought recipes/season.yaml
    """
    if given["item"] and given["amount"] is None and not given["undo"]:
        from eggfold.tasks.note_plan import buy_list

        return buy_list(given)
    from eggfold.tasks.note_stock import buy

    return buy(given)
