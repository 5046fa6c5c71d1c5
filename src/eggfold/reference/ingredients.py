"""Ingredients of base mixes: what 100 g of each is made of, and which allergens there are."""

from __future__ import annotations

from functools import lru_cache

from eggfold.nearest import fold
from eggfold.records import NamedTuple
from eggfold.reference.properties import Parts

SOURCE = (
    "US Department of Agriculture, Agricultural Research Service, Nutrient Data Laboratory: "
    "USDA National Nutrient Database for Standard Reference, Release 28, September 2015"
)


class Ingredient(NamedTuple):
    """One food of the table [g per 100 g], its record number and its other names."""

    name: str
    record: str
    water: float
    protein: float
    fat: float
    carbohydrate_with_fibre: float
    fibre: float
    ash: float
    contains: tuple[str, ...] = ()
    also: tuple[str, ...] = ()

    @property
    def parts(self) -> Parts:
        """The six parts, with the fibre taken out of the carbohydrate."""
        carbohydrate = max(0.0, self.carbohydrate_with_fibre - self.fibre)
        return Parts(self.protein, self.fat, carbohydrate, self.fibre, self.ash, self.water)


_GLUTEN = ("cereals containing gluten",)
_SOYA = ("soybeans",)
_PEANUT = ("peanuts",)
_MILK = ("milk",)
_EGG = ("eggs",)
_MALT = ("cereals containing gluten", "milk")
_SESAME = ("sesame seeds", "bird food")
_NUT = ("nuts",)
_FISH = ("fish",)
_LUPIN = ("lupin",)
_BIRD = ("bird food",)
_RUSK = ("cereals containing gluten", "eggs", "milk")

# fmt: off
# a table reads by its columns: name, record, water, protein, fat, carbohydrate, fibre, ash
_CEREALS = (
    Ingredient("Semolina", "20466", 12.67, 12.68, 1.05, 72.83, 3.9, 0.77, _GLUTEN, ("semolina flour", "fine semolina", "coarse semolina", "wheat semolina", "durum semolina", "durum wheat semolina")),
    Ingredient("Wheat flour", "20481", 11.92, 10.33, 0.98, 76.31, 2.7, 0.47, _GLUTEN, ("plain flour", "plain wheat flour", "white flour", "white wheat flour", "all-purpose flour")),
    Ingredient("Bread flour", "20129", 13.36, 11.98, 1.66, 72.53, 2.4, 0.47, _GLUTEN, ("strong flour", "strong white flour", "strong bread flour")),
    Ingredient("Wholemeal flour", "20080", 10.74, 13.21, 2.5, 71.97, 10.7, 1.58, _GLUTEN, ("wholemeal wheat flour", "whole wheat flour", "wholewheat flour", "whole-grain wheat flour")),
    Ingredient("Wheat bran", "20077", 9.89, 15.55, 4.25, 64.51, 42.8, 5.79, _GLUTEN, ("bran",)),
    Ingredient("Wheat germ", "20078", 11.12, 23.15, 9.72, 51.8, 13.2, 4.21, _GLUTEN, ("wheatgerm",)),
    Ingredient("Maize meal", "20020", 10.26, 8.12, 3.59, 76.89, 7.3, 1.13, (), ("maizemeal", "maize-meal", "cornmeal", "corn meal", "whole cornmeal", "yellow cornmeal", "wholegrain maize meal", "ground maize")),
    Ingredient("Degermed maize meal", "20422", 11.18, 7.11, 1.75, 79.45, 3.9, 0.51, (), ("degermed cornmeal", "polenta", "fine maize meal")),
    Ingredient("Maize flour", "20016", 10.91, 6.93, 3.86, 76.85, 7.3, 1.45, (), ("corn flour, whole-grain", "whole corn flour", "fine corn flour")),
    Ingredient("Maize starch", "20027", 8.32, 0.26, 0.05, 91.27, 0.9, 0.09, (), ("cornflour", "corn starch", "cornstarch", "maize cornflour")),
    Ingredient("Rice flour", "20061", 11.89, 5.95, 1.42, 80.13, 2.4, 0.61, (), ("white rice flour", "ground rice")),
    Ingredient("Brown rice flour", "20090", 11.97, 7.23, 2.78, 76.48, 4.6, 1.54, (), ("wholegrain rice flour",)),
    Ingredient("Rice bran", "20060", 6.13, 13.35, 20.85, 49.69, 21, 9.98, (), ("crude rice bran",)),
    Ingredient("Millet", "20031", 8.67, 11.02, 4.22, 72.85, 8.5, 3.25, _BIRD, ("whole millet", "millet seed", "millet meal", "ground millet", "millet flour")),
    Ingredient("Oats", "20038", 8.22, 16.89, 6.9, 66.27, 10.6, 1.72, _GLUTEN, ("rolled oats", "oatmeal", "porridge oats", "ground oats", "oat flour")),
    Ingredient("Oat bran", "20033", 6.55, 17.3, 7.03, 66.22, 15.4, 2.89, _GLUTEN, ("oatbran",)),
)

_PULSES = (
    Ingredient("Soya flour", "16116", 3.81, 38.09, 21.86, 30.38, 9.7, 5.86, _SOYA, ("soy flour", "soya flour, full fat", "full fat soya flour", "full-fat soya flour", "full fat soy flour", "full-fat soy flour", "soya flour full fat", "soy flour full fat", "full fat soya", "full-fat soya", "toasted soya flour", "roasted soya flour")),
    Ingredient("Raw soya flour", "16115", 5.16, 37.81, 20.65, 31.92, 9.6, 4.46, _SOYA, ("raw soy flour", "full fat raw soya flour", "enzyme-active soya flour")),
    Ingredient("Defatted soya flour", "16117", 7.25, 51.46, 1.22, 33.92, 17.5, 6.15, _SOYA, ("defatted soy flour",)),
    Ingredient("Soya protein concentrate", "16121", 5.8, 63.63, 0.46, 25.41, 5.5, 4.7, _SOYA, ("soy protein concentrate", "soya concentrate", "soy concentrate")),
    Ingredient("Soya protein isolate", "16122", 4.98, 88.32, 3.39, 0, 0, 3.58, _SOYA, ("soy protein isolate", "soya isolate", "soy isolate")),
    Ingredient("Defatted peanut flour", "16099", 7.8, 52.2, 0.55, 34.7, 15.8, 4.75, _PEANUT, ("peanut flour", "fat free peanut flour")),
    Ingredient("Low fat peanut flour", "16100", 7.8, 33.8, 21.9, 31.27, 15.8, 5.23, _PEANUT, ("low-fat peanut flour", "part-defatted peanut flour")),
    Ingredient("Ground peanuts", "16087", 6.5, 25.8, 49.24, 16.13, 8.5, 2.33, _PEANUT, ("peanuts", "raw peanuts", "groundnuts", "ground groundnuts")),
    Ingredient("Chickpea flour", "16157", 10.28, 22.39, 6.69, 57.82, 10.8, 2.82, (), ("gram flour", "besan", "chick pea flour")),
    Ingredient("Lupin", "16076", 10.44, 36.17, 9.74, 40.37, 18.9, 3.28, _LUPIN, ("lupin meal", "lupin flour", "lupin seeds", "lupins", "lupine flour")),
)

_MILK_AND_EGG = (
    Ingredient("Skimmed milk powder", "01091", 3.16, 36.16, 0.77, 51.98, 0, 7.93, _MILK, ("skim milk powder", "skimmed-milk powder", "dried skim milk", "skimmed milk", "dried skimmed milk", "non-fat milk powder", "nonfat dry milk")),
    Ingredient("Whole milk powder", "01212", 2.47, 26.32, 26.71, 38.42, 0, 6.08, _MILK, ("full cream milk powder", "full-cream milk powder", "dried whole milk")),
    Ingredient("Buttermilk powder", "01094", 2.97, 34.3, 5.78, 49, 0, 7.95, _MILK, ("dried buttermilk",)),
    Ingredient("Whey powder", "01115", 3.19, 12.93, 1.07, 74.46, 0, 8.35, _MILK, ("sweet whey powder", "dried whey", "whey")),
    Ingredient("Whey protein powder", "14066", 3.44, 78.13, 1.56, 6.25, 3.1, 10.55, _MILK, ("whey protein",)),
    Ingredient("Malted milk powder", "14311", 2, 14.29, 9.52, 71.21, 0.1, 2.98, _MALT, ("malted milk", "malted drink powder", "malted drink mix")),
    Ingredient("Egg albumin", "01136", 8.54, 82.4, 0.04, 4.47, 0, 4.55, _EGG, ("egg albumen", "egg albumin powder", "egg albumen powder", "albumin", "albumen", "egg white powder", "dried egg white powder")),
    Ingredient("Dried egg white", "01173", 5.8, 81.1, 0, 7.8, 0, 5.3, _EGG, ("dried egg whites",)),
    Ingredient("Stabilised dried egg white", "01258", 5.48, 84.08, 0.32, 4.51, 0, 5.61, _EGG, ("stabilized dried egg white", "desugared egg white")),
    Ingredient("Whole egg powder", "01133", 2.78, 48.05, 43.9, 1.13, 0, 4.13, _EGG, ("dried whole egg", "egg powder", "dried egg")),
    Ingredient("Egg yolk powder", "01137", 3.08, 33.63, 59.13, 0.66, 0, 3.51, _EGG, ("dried egg yolk", "dried egg yolks")),
)

_SEEDS_AND_NUTS = (
    Ingredient("Hemp seed", "12012", 4.96, 31.56, 48.75, 8.67, 4, 6.06, _BIRD, ("hempseed", "hulled hemp seed", "hemp hearts", "ground hemp", "ground hemp seed")),
    Ingredient("Linseed", "12220", 6.96, 18.29, 42.16, 28.88, 27.3, 3.72, _BIRD, ("flaxseed", "flax seed", "flax", "ground linseed", "ground flaxseed")),
    Ingredient("Sesame seed", "12023", 4.69, 17.73, 49.67, 23.45, 11.8, 4.45, _SESAME, ("sesame seeds", "sesame", "ground sesame")),
    Ingredient("Sunflower kernels", "12036", 4.73, 20.78, 51.46, 20, 8.6, 3.02, _BIRD, ("sunflower seed kernels", "sunflower hearts", "ground sunflower kernels")),
    Ingredient("Desiccated coconut", "12108", 3, 6.88, 64.53, 23.65, 16.3, 1.94, (), ("coconut", "unsweetened coconut")),
    Ingredient("Ground almonds", "12061", 4.41, 21.15, 49.93, 21.55, 12.5, 2.97, _NUT, ("almonds", "almond meal", "almond flour")),
)

_BINDERS = (
    Ingredient("Wheat gluten", "48052", 8.2, 75.16, 1.85, 13.79, 0.6, 1, _GLUTEN, ("vital wheat gluten", "wheat gluten powder", "vital gluten", "gluten", "gluten powder")),
    Ingredient("Gelatine", "19177", 13, 85.6, 0.1, 0, 0, 1.3, (), ("gelatin", "gelatine powder", "gelatin powder")),
    Ingredient("Dried yeast", "18375", 5.08, 40.44, 7.61, 41.22, 26.9, 5.65, (), ("baker's yeast", "active dry yeast", "dry yeast")),
    Ingredient("Spirulina", "11667", 4.68, 57.47, 7.72, 23.9, 3.6, 6.23, (), ("spirulina powder", "dried spirulina")),
)

_FLAVOURS_AND_OILS = (
    Ingredient("Sugar", "19335", 0.02, 0, 0, 99.98, 0, 0.01, (), ("granulated sugar", "white sugar", "caster sugar")),
    Ingredient("Molasses", "19304", 21.87, 0, 0.1, 74.73, 0, 3.3, (), ("cane molasses",)),
    Ingredient("Honey", "19296", 17.1, 0.3, 0, 82.4, 0.2, 0.2, (), ("runny honey", "set honey")),
    Ingredient("Salt", "02047", 0.2, 0, 0, 0, 0, 99.8, (), ("table salt", "sea salt", "fine salt")),
    Ingredient("Paprika", "02028", 11.24, 14.14, 12.89, 53.99, 34.9, 7.74, (), ("ground paprika", "paprika powder")),
    Ingredient("Garlic powder", "02020", 6.45, 16.55, 0.73, 72.73, 9, 3.54, (), ("dried garlic", "ground garlic")),
    Ingredient("Cod liver oil", "04589", 0, 0, 100, 0, 0, 0, _FISH, ("fish oil", "cod-liver oil")),
    Ingredient("Breadcrumbs", "18079", 6.51, 13.35, 5.3, 71.98, 4.5, 2.87, _GLUTEN, ("bread crumbs", "dry breadcrumbs", "dried breadcrumbs", "crumb")),
    Ingredient("Zwieback", "03217", 4.5, 10.1, 9.7, 74.2, 2.5, 1.5, _RUSK, ("zwieback meal", "ground zwieback", "zwieback crumb")),
)

# fmt: on

INGREDIENTS: tuple[Ingredient, ...] = (
    *_CEREALS,
    *_PULSES,
    *_MILK_AND_EGG,
    *_SEEDS_AND_NUTS,
    *_BINDERS,
    *_FLAVOURS_AND_OILS,
)


def find_ingredient(name: str) -> Ingredient | None:
    """Return the ingredient of a name, whichever of its names it is, or None."""
    return _by_name().get(fold(name))


def known_names() -> tuple[str, ...]:
    """Return every name that ``find_ingredient`` knows, as written in the table."""
    return tuple(name for row in INGREDIENTS for name in (row.name, *row.also))


@lru_cache(maxsize=1)
def _by_name() -> dict[str, Ingredient]:
    return {fold(name): row for row in INGREDIENTS for name in (row.name, *row.also)}


BIRD_FOOD = "bird food"

ALLERGENS = (
    "cereals containing gluten",
    "crustaceans",
    "eggs",
    "fish",
    "peanuts",
    "soybeans",
    "milk",
    "nuts",
    "celery",
    "mustard",
    "sesame seeds",
    "sulphur dioxide and sulphites",
    "lupin",
    "molluscs",
)
"""Regulation (EU) 1169/2011 Annex II."""

CONTAINS = (*ALLERGENS, BIRD_FOOD)
"""Every word that ``contains`` may list."""

SHORT_NAMES = {
    "gluten": "cereals containing gluten",
    "cereals with gluten": "cereals containing gluten",
    "cereals": "cereals containing gluten",
    "wheat": "cereals containing gluten",
    "crustacean": "crustaceans",
    "egg": "eggs",
    "peanut": "peanuts",
    "groundnuts": "peanuts",
    "soya": "soybeans",
    "soy": "soybeans",
    "soya beans": "soybeans",
    "tree nuts": "nuts",
    "sesame": "sesame seeds",
    "sulphites": "sulphur dioxide and sulphites",
    "sulfites": "sulphur dioxide and sulphites",
    "sulphur dioxide": "sulphur dioxide and sulphites",
    "mollusc": "molluscs",
    "mollusks": "molluscs",
    "birdfood": "bird food",
}
"""Other spellings of the same words."""
