"""Files just under 1 MiB that somebody could write, or leave behind by a slip, and commands that read them."""

from __future__ import annotations

from typing import NamedTuple

LARGEST = 1024 * 1024 - 200
FEW = 3
"""Lines of the small file that each is held against."""

RECIPE = """\
name: Reed bed
base_mix: {name: Reed mix, amount: 130 g}
additives:
  - {name: Malt syrup, form: liquid, density: 1.35 g/ml, hookbait: 4 g per egg, freebie: 9 g per egg}
baits: {hookbait: 14 mm, freebie: 18 mm}
"""
BLENDED = """\
name: Reed bed
base_mix: {name: Reed mix, amount: 130 g, blend: {Semolina: 60 %, Soja flower: 40 %}}
"""
NAMING = """\
name: Reed bed
base_mix: {name: Reed mix, amount: 130 g}
additives: [Reed flavor 7]
"""

CHECKS = (("check", "{}"), ("check", "--fix", "--dry-run", "{}"))
BATCH = ("batch", "reed.yaml", "--eggs", "6", "--as", "freebie")
BUYING = ("shopping", "reed.yaml", "--eggs", "6", "--as", "freebie")
FORMATS = ("html", "pdf", "csv", "markdown", "json")
"""What a page is written as, but text."""
PAGES = tuple((*BATCH, "--why", "--format", form) for form in FORMATS)
OF_A_RECIPE = (
    *CHECKS,
    BATCH,
    BUYING,
    ("doses", "reed.yaml"),
    ("powder", "reed.yaml"),
    ("labels", "reed.yaml", "--eggs", "6", "--as", "freebie"),
    ("boil", "--recipe", "reed.yaml"),
    *PAGES,
)
OF_A_REGISTER = (*CHECKS, BATCH, ("doses",), ("doses", "--format", "html"), *PAGES[:2])
OF_POWDERS = (*CHECKS, ("powder", "reed.yaml"))
OF_A_BENCH = (*CHECKS, BATCH, PAGES[0])
OF_A_SHELF = (
    *CHECKS,
    ("shelf",),
    BUYING,
    BATCH,
    ("note", "bought", "Malt syrup", "1 kg", "--dry-run"),
    PAGES[0],
)
OF_A_NOTEBOOK = (
    *CHECKS,
    ("trials", "reed.yaml"),
    BATCH,
    ("note", "fished", "reed.yaml", *["--rods", "2", "--hours", "3", "--takes", "1", "--dry-run"]),
    ("note", "rolled", "--undo", "--dry-run"),
    ("trials", "reed.yaml", "--why", "--format", "html"),
)
OF_A_WEEKEND = (*CHECKS, ("rolling", "{}"), ("shopping", "{}"))
OF_A_SEASON = (*CHECKS, ("campaign", "{}", "--date", "2027-01-01"), ("shopping", "{}"))


class Hostile(NamedTuple):
    """A file made of one line over and over, with ``{i}`` for its number, and what reads it."""

    what: str
    file: str
    commands: tuple[tuple[str, ...], ...]
    head: str
    line: str
    tail: str = ""
    most: int = LARGEST
    """Lines at the most: where the limit on nodes lets no more be read."""
    beside: str = RECIPE
    """The recipe beside it."""

    def text(self, lines: int | None = None) -> str:
        """Return the file with so many lines, else with all that go into it."""
        room = LARGEST - len(self.head) - len(self.tail)
        written: list[str] = []
        for i in range(self.most if lines is None else lines):
            line = self.line.replace("{i}", str(i))
            room -= len(line.encode())
            if room < 0:
                break
            written.append(line)
        return "".join([self.head, *written, self.tail])


NAME = "name: Reed bed\n"
MIX = "base_mix: {name: Reed mix, amount: 130 g}\n"
ADDITIVES = f"{NAME}{MIX}additives:\n"
DOSED = "form: liquid, density: 1.35 g/ml, hookbait: 4 g per egg, freebie: 9 g per egg"
LONG = "long caraway and honey flavour of the reed bed in the old brown bottle behind the door {i}"


def _recipe(what: str, head: str, line: str, tail: str = "", most: int = LARGEST) -> Hostile:
    return Hostile(what, "reed.yaml", OF_A_RECIPE, head, line, tail, most)


RECIPES = (
    _recipe("additives", ADDITIVES, f"  - {{name: Syrup {{i}}, {DOSED}}}\n", "", 1600),
    _recipe(
        "additives by a wrong unit",
        ADDITIVES,
        "  - {name: A{i}, hookbait: 4 gm per egg}\n",
        "",
        3900,
    ),
    _recipe(
        "additives in commas", ADDITIVES, "  - {name: A{i}, hookbait: 0,7 g per egg}\n", "", 2800
    ),
    _recipe("additives that nobody knows", ADDITIVES, "  - Reed flavor {i}\n", "", 19_900),
    _recipe(
        "additives by a wrong key", ADDITIVES, "  - {name: A{i}, hookbat: 4 g per egg}\n", "", 3900
    ),
    _recipe("wrong forms", ADDITIVES, "  - {name: A{i}, form: liqid}\n", "", 3900),
    _recipe("unknown keys", NAME + MIX, "addditives{i}: 3\n", "", 9900),
    _recipe("long unknown keys", NAME + MIX, f"{LONG}: 3\n", "", 9900),
    _recipe("the same key", NAME + MIX, "notes: 3\n", "", 9900),
    _recipe("a blend", f"{NAME}base_mix:\n  name: M\n  blend:\n", "    Soja {i}: 1 %\n", "", 9900),
    _recipe(
        "a blend of long names",
        f"{NAME}base_mix:\n  name: M\n  blend:\n",
        f"    {LONG}: 1 %\n",
        "",
        9900,
    ),
    _recipe(
        "baits", f"{NAME}{MIX}baits:\n  freebie:\n", "    - {size: 18 mm, count: {i}1}\n", "", 3900
    ),
    _recipe(
        "bad baits",
        f"{NAME}{MIX}baits:\n  freebie:\n",
        "    - {kind: botom, size: 18 m}\n",
        "",
        3900,
    ),
    _recipe("allergens", f"{NAME}base_mix:\n  name: M\n  contains:\n", "    - milk\n", "", 19_900),
    _recipe(
        "wrong allergens",
        f"{NAME}base_mix:\n  name: M\n  contains:\n",
        "    - milq {i}\n",
        "",
        19_900,
    ),
    _recipe("a name of 1 MiB", "name: ", "reed ", "\n" + MIX),
    _recipe("a key of 1 MiB", NAME + MIX, "reed ", ": 1\n"),
    _recipe("a dose of 1 MiB", f"{ADDITIVES}  - {{name: A, hookbait: ", "4 g ", "}\n"),
    _recipe("an amount of 1 MiB", f"{NAME}base_mix: {{name: A, amount: ", "4", " g}\n"),
    _recipe("an additive of 1 MiB", f"{ADDITIVES}  - ", "reed ", "\n"),
    _recipe(
        "everything in one line",
        f"{NAME}{MIX}additives: [",
        f"{{name: A{{i}}, {DOSED}}}, ",
        "]\n",
        1600,
    ),
    _recipe(
        "bad amounts in one line",
        f"{NAME}{MIX}additives: [",
        "{name: A{i}, hookbait: 4 gm}, ",
        "]\n",
        3900,
    ),
    _recipe("exclamation marks", f"{NAME}{MIX}notes: ", "!", "\n"),
    _recipe("a tag of 1 MiB", f"{NAME}{MIX}notes: !", "reed", " x\n"),
    _recipe("an anchor of 1 MiB", f"{NAME}{MIX}notes: &", "reed", " x\n"),
    _recipe("a mix of 1 MiB", f"{NAME}base_mix: {{amount: 130 g, name: ", "reed ", "}\n"),
    _recipe("a mix of one word of 1 MiB", f"{NAME}base_mix: ", "reed", "\n"),
    _recipe("an explicit key of 1 MiB", f"{NAME}{MIX}? ", "reed ", "\n: 1\n"),
    _recipe(
        "keys in keys, every other one escaped",
        f"{NAME}{MIX}notes:\n",
        "".join(f'{" " * n}"a\\x41":\n{" " * n} b:\n' for n in range(2, 40, 2)),
    ),
    _recipe("brackets in a line", f"{NAME}{MIX}notes: ", "[", "\n", 488),
    _recipe("a time of day in braces", f"{NAME}{MIX}notes:\n", "  - {at: 12:30}\n"),
    _recipe("returns", f"{NAME}{MIX}notes: x", "\r", "\n"),
    _recipe("brackets in brackets", f"{NAME}{MIX}notes: ", "[", "\n"),
    _recipe("braces in braces", f"{NAME}{MIX}notes: ", "{a: ", "\n"),
    _recipe("dashes behind dashes", f"{NAME}{MIX}notes:\n  ", "- ", "\n"),
    _recipe("question marks", f"{NAME}{MIX}notes:\n  ", "? ", "\n"),
    _recipe("comments", NAME + MIX, "# {i}\n"),
    _recipe("empty lines", NAME + MIX, "\n"),
    _recipe("spaces", NAME + MIX + "notes: ", " ", "x\n"),
    _recipe("tabs", NAME + MIX + "notes: x", "\t", "\n"),
    _recipe("tabs behind values", ADDITIVES, "  - Reed {i}\t\n", "", 19_900),
    _recipe("notes in plain lines", f"{NAME}{MIX}notes:\n", "  reed {i}\n"),
    _recipe("notes in a block", f"{NAME}{MIX}notes: |\n", "  reed {i}\n"),
    _recipe("notes in a folded block", f"{NAME}{MIX}notes: >\n", "  reed {i}\n"),
    _recipe("notes in quotes", f'{NAME}{MIX}notes: "\n', "  reed \\u00e9 {i}\n", '  "\n'),
    _recipe("a quote never closed", f'{NAME}{MIX}notes: "\n', "  reed {i}\n"),
    _recipe("a bracket never closed", f"{NAME}{MIX}notes: [\n", "  reed {i},\n"),
    _recipe("a bracket around one text", f"{NAME}{MIX}notes: [\n", "  reed {i}\n", "  ]\n"),
    _recipe("colons", f"{NAME}{MIX}notes: ", "a:", "\n"),
    _recipe("anchors", f"{NAME}{MIX}notes:\n", "  - &a{i} 1\n"),
    _recipe("documents", NAME + MIX, "---\n"),
    _recipe("directives", "", "%TAG ! tag:{i}:\n", f"---\n{NAME}{MIX}"),
    _recipe("more than can be read", f"{NAME}{MIX}notes:\n", "  - reed {i}\n"),
    _recipe("keys without a colon", NAME + MIX, "reed {i}\n"),
    _recipe("controls", f"{NAME}{MIX}notes: ", "\u200b\u202e", "\n"),
    _recipe("a control at the end", f"{NAME}{MIX}notes: ", "reed ", "\x01\n"),
)


def _register(what: str, line: str, most: int = LARGEST, beside: str = NAMING) -> Hostile:
    return Hostile(what, "additives.yaml", OF_A_REGISTER, "additives:\n", line, "", most, beside)


REGISTERS = (
    _register("additives", f"  Reed flavour {{i}}: {{{DOSED}}}\n", 1900),
    _register("additives of long names", f"  {LONG}: {{form: oil, hookbait: 1 g per egg}}\n", 3300),
    _register("additives without a form", "  Reed flavour {i}: {hookbait: 1 g per egg}\n", 4900),
    _register("additives by a wrong form", "  A{i}: {form: liqid, hookbait: 4 gm per egg}\n", 3300),
    _register("additives by a wrong key", "  A{i}: {fromm: oil, hookbat: 1 g per egg}\n", 3300),
    _register("additives of one name", "  'A{i} ': {form: oil}\n  A{i}: {form: oil}\n", 2400),
    _register("additives in commas", "  A{i}: {form: oil, hookbait: 0,7 g per egg}\n", 2400),
    _register("cups of powder", "  A{i}: {form: powder, hookbait: 1 cup per egg}\n", 3300),
    _register("over 100 %", "  A{i}: {form: oil, analysis: {fat: 99 %, ash: 9 %}}\n", 2000),
    _register("more than can be read", "  A{i}: {form: oil}\n"),
)


def _powders(what: str, line: str, most: int = LARGEST) -> Hostile:
    return Hostile(what, "ingredients.yaml", OF_POWDERS, "ingredients:\n", line, "", most, BLENDED)


POWDERS = (
    _powders("powders", "  Soya flour {i}: {analysis: {protein: 40 %, fat: 20, ash: 5}}\n", 1900),
    _powders("powders of long names", f"  {LONG}: {{analysis: {{fat: 20}}}}\n", 3300),
    _powders("powders without analysis", "  Soya flour {i}: {contains: [soya]}\n", 3900),
    _powders(
        "powders by a wrong allergen", "  A{i}: {analysis: {fat: 1}, contains: [mlik]}\n", 2200
    ),
    _powders("powders by a wrong key", "  A{i}: {analisys: {fat: 1}}\n", 3300),
)


def _bench(what: str, head: str, line: str, most: int = LARGEST) -> Hostile:
    return Hostile(what, "bench.yaml", OF_A_BENCH, head, line, "", most)


BENCHES = (
    _bench("scales", "scales:\n", "  - {division: 0.1 g, up_to: {i}1 g}\n", 3900),
    _bench("syringes", "syringes:\n", "  - {size: 100 ml, division: 0.5 ml}\n", 3900),
    _bench("spoons", "spoons:\n", "  - 5.{i} ml\n", 19_900),
    _bench("bad scales", "scales:\n", "  - {division: 0.1 gm, up_to: 1 kgg}\n", 3900),
    _bench("unknown keys", "", "scales{i}: 3\n", 9900),
)


def _shelf(what: str, line: str, head: str = "currency: EUR\nitems:\n", tail: str = "") -> Hostile:
    return Hostile(what, "shelf.yaml", OF_A_SHELF, head, line, tail)


IN_QUOTES = "items:\n  ? 'as no quick look reads it'\n  : {left: 1 g}\n"
SHELVES = (
    _shelf(
        "items", "  Thing {i}:\n    left: 640 g\n    sold_in:\n      - {size: 1 kg, price: 9.80}\n"
    ),
    _shelf("items in short", "  Thing {i}: {left: 640 g}\n"),
    _shelf("items without anything", "  A{i}:\n"),
    _shelf("items with dates", "  A{i}: {left: 5 kg, opened: 2026-01-01, use_by: 2026-10-02}\n"),
    _shelf("items of one name", "  'A{i} ': {left: 1 g}\n  A{i}: {left: 1 g}\n"),
    _shelf("items of a wrong unit", "  A{i}: {left: 1 gm}\n"),
    _shelf("items of a wrong key", "  A{i}: {lefft: 1 g}\n"),
    _shelf("items in commas", "  A{i}: {left: 0,7 g}\n"),
    _shelf("items in commas, blocks", "  A{i}:\n    left: 0,7 g\n"),
    _shelf("items without currency", "  A{i}: {sold_in: [{size: 1 g, price: 1}]}\n", "items:\n"),
    _shelf("items in cups", "  A{i}: {left: 1 cup}\n"),
    _shelf("items twice", "  Malt syrup: {left: 1 kg}\n"),
    _shelf("items after a hard one", "  Thing {i}: {left: 640 g}\n", IN_QUOTES),
    _shelf("bare items after a hard one", "  A{i}:\n", IN_QUOTES),
    _shelf("items, each a hard one", "  ? A{i}\n  : {left: 1 g}\n"),
    _shelf(
        "every tenth a hard one",
        "".join(f"  Thing {{i}}{n}: {{left: 640 g}}\n" for n in range(9))
        + "  ? A{i}\n  : {left: 1 g}\n",
    ),
    _shelf(
        "packs", "      - {size: {i} g, price: 9.80}\n", "items:\n  Malt syrup:\n    sold_in:\n"
    ),
    _shelf("other names", "      - reed {i}\n", "items:\n  Malt syrup:\n    also:\n"),
    _shelf("an error at the end", "  Thing {i}: {left: 640 g}\n", tail=" Thing: 3\n"),
    _shelf("no item but a bracket", "[", "items: "),
    _shelf("exclamation marks", "!", "items: "),
    _shelf("a time of day in braces", "  A{i}: {at: 12:30}\n"),
    _shelf("one time of day in braces", "  A{i}: {left: 1 g}\n", tail="  A: {at: 12:30}\n"),
    _shelf("a text and an error", "reed ", 'items:\n  A: "', '"\n x: [\n'),
    _shelf("returns and an error", "\r", "items: x", "a: [\n"),
    _shelf("tabs", "  A{i}:\t{left: 1 g}\n"),
)


def _notebook(what: str, line: str, head: str = "fished:\n", tail: str = "") -> Hostile:
    return Hostile(what, "notebook.yaml", OF_A_NOTEBOOK, head, line, tail)


OUTING = "{date: 2025-05-02, recipe: Reed bed, rods: 3, hours: 8, takes: 1}"
BOWL = "date: 2025-05-02, recipe: Reed bed, strength: hookbait, eggs: 2"
WEIGHING = f"{{{BOWL}, before: 2 kg, after: 1.7 kg, wet: 129 g, dry: 300 g}}"
FAR_OFF = WEIGHING.replace("after: 1.7 kg", "after: 1.9{i} kg").replace(
    "dry: 300 g", "dry: 300.{i} g"
)
OUTINGS_ON_MANY = "".join(
    f"  - {{date: 2025-05-02, recipe: Bed {n}, rods: 9, hours: 8, takes: 99{n % 9}}}\n"
    for n in range(99)
)
NOTEBOOKS = (
    _notebook("outings", f"  - {OUTING}\n"),
    _notebook("outings elsewhere", f"  - {OUTING.replace('Reed bed', 'Bed {i}')}\n"),
    _notebook("outings to come", f"  - {OUTING.replace('2025', '2095')}\n"),
    _notebook("outings of a wrong key", f"  - {OUTING.replace('rods', 'rodds')}\n"),
    _notebook("outings without anything", "  - {}\n"),
    _notebook("outings that are texts", "  - a\n"),
    _notebook("outings after a hard one", f"  - {OUTING}\n", "fished:\n  - ? date\n    : 3\n"),
    _notebook("outings, each a hard one", "  - ? date\n    : 2025-05-02\n"),
    _notebook(
        "outings in two lines", f"  - {OUTING.replace(', rods', ',' + chr(10) + '     rods')}\n"
    ),
    _notebook("every tenth a hard one", f"  - {OUTING}\n" * 9 + "  - ? date\n    : 3\n"),
    _notebook("an error at the end", f"  - {OUTING}\n", tail="  - [\n"),
    _notebook("weighings", f"  - {WEIGHING}\n", "weighed:\n"),
    _notebook("weighings far off", f"  - {FAR_OFF}\n  - {WEIGHING}\n", "weighed:\n"),
    _notebook("outings on 99 mixes", OUTINGS_ON_MANY),
    _notebook("rolled bowls", f"  - {WEIGHING}\n", "rolled:\n"),
    _notebook(
        "names drawn",
        "      n{i}: 3 g\n",
        f"rolled:\n  - {BOWL.replace(', ', chr(10) + '    ')}\n    drew:\n",
    ),
    _notebook("names drawn in one line", "n{i}: 3 g, ", f"rolled:\n  - {{{BOWL}, drew: {{", "}}\n"),
    _notebook("exclamation marks", "!", "fished: "),
    _notebook("a recipe of 1 MiB", "reed ", f"fished:\n  - {OUTING[:-1]}, recipe: ", "}\n"),
    _notebook("a remark of 1 MiB", "reed ", f"fished:\n  - {OUTING[:-1]}, remark: ", "}\n"),
    _notebook("unknown keys", "fishd{i}: 3\n", ""),
)


def _plan(what: str, key: str, line: str, most: int = LARGEST, head: str = "") -> Hostile:
    if key == "bowls":
        start = f"start: 2027-03-27 09:00\nhours: 9 h\n{head}bowls:\n"
        return Hostile(what, "weekend.yaml", OF_A_WEEKEND, start, line, "", most)
    start = f"hours: 9 h\n{head}trips:\n"
    return Hostile(what, "season.yaml", OF_A_SEASON, start, line, "", most)


TRIP = "  - {leave: 2027-04-02, freebies: {recipe: reed, bait: 1 kg}}\n"
TWENTY = "days: 14\npeople: 20\ntables: 20\npans: 20\nmixing_bowls: 20\n"
SIZES = ", ".join(f"{{size: {10 + i / 10:g} mm, share: 1 %}}" for i in range(20))
SIZED = f"  - {{recipe: reed, bait: 2{{i}} g, sizes: [{SIZES}, {{size: 18 mm}}]}}\n"
THINGS = ", ".join(f"{{recipe: reed, bait: {1000 + i} g}}" for i in range(499))
PLANS = (
    _plan("bowls", "bowls", "  - {recipe: reed, bait: 1 kg}\n", 3900),
    _plan("many eggs", "bowls", "  - {recipe: reed, eggs: 100000}\n", 3900),
    _plan("bowls, each another", "bowls", "  - {recipe: reed, bait: 2{i} g}\n", 199),
    _plan("bowls for twenty people", "bowls", "  - {recipe: reed, bait: 2{i} g}\n", 199, TWENTY),
    _plan("bowls of many sizes", "bowls", SIZED, 160),
    _plan("bowls elsewhere", "bowls", "  - {recipe: red{i}, bait: 1 kg}\n", 3900),
    _plan("bowls of a wrong key", "bowls", "  - {recip: reed, bait: 1 kgg}\n", 3900),
    _plan(
        "breaks",
        "bowls",
        "  - {recipe: reed, bait: 1 kg}\n",
        1,
        "breaks:\n"
        + "".join(
            f"  - {{at: {i // 60 % 24:02}:{i % 60:02}, lasts: 1 min}}\n" for i in range(3800)
        ),
    ),
    _plan("trips", "trips", TRIP, 2000),
    _plan("trips far apart", "trips", TRIP.replace("02", "27", 1).replace("2727", "2{i}"), 8),
    _plan("trips of many things", "trips", f"  - {{leave: 2027-04-02, freebies: [{THINGS}]}}\n", 1),
    _plan("trips thousands of years away", "trips", TRIP.replace("2027", "9{i}27"), 8),
    _plan("trips elsewhere", "trips", TRIP.replace("reed", "red{i}"), 2000),
    _plan("trips without anything", "trips", "  - {leave: 2027-04-02}\n", 6000),
    _plan("days off", "trips", TRIP, 2, "not_on:\n" + "  - 2027-04-02\n" * 19_000),
)

HOSTILE = (*RECIPES, *REGISTERS, *POWDERS, *BENCHES, *SHELVES, *NOTEBOOKS, *PLANS)
