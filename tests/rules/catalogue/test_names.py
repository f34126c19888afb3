"""The names that people write lead to the right substance, and each substance has the name of its label."""

from __future__ import annotations

import pytest

from rules.catalogue import Catalogue, Role, Shelf, load_catalogue

# Kitchen, craft and shop names; common practice, no source.
WRITTEN = [
    ("evoo", "olive_oil"),
    ("fco", "fractionated_coconut_oil"),
    ("jojoba", "jojoba_oil"),
    ("castor", "castor_oil"),
    ("shea", "shea_butter"),
    ("cera alba", "beeswax"),
    ("distilled water", "water"),
    ("rosewater", "rose_water"),
    ("vegetable glycerine", "glycerin"),
    ("e422", "glycerin"),
    ("vitamin c", "ascorbic_acid"),
    ("vit e", "tocopherol"),
    ("vitamin b3", "niacinamide"),
    ("bicarb", "sodium_bicarbonate"),
    ("lye", "sodium_hydroxide"),
    ("borax powder", "borax"),
    ("epsom salts", "epsom_salt"),
    ("ewax", "emulsifying_wax"),
    ("btms 50", "btms_50"),
    ("capb", "cocamidopropyl_betaine"),
    ("sci", "sci"),
    ("slsa", "slsa"),
    ("hec", "hydroxyethylcellulose"),
    ("castile soap", "liquid_castile_soap"),
    ("rubbing alcohol", "rubbing_alcohol_70"),
    ("isopropyl alcohol", "rubbing_alcohol_70"),
    ("91% isopropyl alcohol", "rubbing_alcohol_91"),
    ("tio2", "titanium_dioxide"),
    ("ci 77491", "iron_oxide_red"),
    ("red 40", "fd_c_red_40"),
    ("allura red", "fd_c_red_40"),
    ("yellow 5", "fd_c_yellow_5"),
    ("tartrazine", "fd_c_yellow_5"),
    ("octinoxate", "octinoxate"),
    ("gse", "grapefruit_seed_extract"),
    ("broad spectrum preservative", "preservative"),
    ("monomer", "acrylic_nail_liquid"),
]

# INCI names, seen in ingredient lists in public repositories; the last five are from memory.
INCI = {
    "shea_butter": "Butyrospermum Parkii Butter",
    "cocoa_butter": "Theobroma Cacao Seed Butter",
    "mango_butter": "Mangifera Indica Seed Butter",
    "babassu_oil": "Orbignya Oleifera Seed Oil",
    "illipe_butter": "Shorea Stenoptera Seed Butter",
    "neem_oil": "Melia Azadirachta Seed Oil",
    "sea_buckthorn_oil": "Hippophae Rhamnoides Oil",
    "sunflower_oil": "Helianthus Annuus Seed Oil",
    "macadamia_oil": "Macadamia Ternifolia Seed Oil",
    "coconut_oil": "Cocos Nucifera Oil",
    "argan_oil": "Argania Spinosa Kernel Oil",
    "marula_oil": "Sclerocarya Birrea Seed Oil",
    "soybean_oil": "Glycine Soja Oil",
    "sesame_oil": "Sesamum Indicum Seed Oil",
    "castor_oil": "Ricinus Communis Seed Oil",
    "jojoba_oil": "Simmondsia Chinensis Seed Oil",
    "fractionated_coconut_oil": "Caprylic/Capric Triglyceride",
    "candelilla_wax": "Euphorbia Cerifera Cera",
    "carnauba_wax": "Copernicia Cerifera Cera",
    "rice_bran_wax": "Oryza Sativa Cera",
    "beeswax": "Cera Alba",
    "microcrystalline_wax": "Cera Microcristallina",
    "ozokerite": "Ozokerite",
    "tallow": "Adeps Bovis",
    "isononyl_isononanoate": "Isononyl Isononanoate",
    "dicaprylyl_ether": "Dicaprylyl Ether",
    "hydrogenated_polyisobutene": "Hydrogenated Polyisobutene",
    "polyglyceryl_2_triisostearate": "Polyglyceryl-2 Triisostearate",
    "potassium_cetyl_phosphate": "Potassium Cetyl Phosphate",
    "behentrimonium_chloride": "Behentrimonium Chloride",
    "disteardimonium_hectorite": "Disteardimonium Hectorite",
    "hydroxyethylcellulose": "Hydroxyethylcellulose",
    "honeyquat": "Hydroxypropyltrimonium Honey",
    "aloe_vera_juice": "Aloe Barbadensis Leaf Juice",
    "orange_blossom_water": "Citrus Aurantium Amara Flower Water",
    "tocopheryl_acetate": "Tocopheryl Acetate",
    "hydroxyacetophenone": "Hydroxyacetophenone",
    "ensulizole": "Phenylbenzimidazole Sulfonic Acid",
    "avobenzone": "Butyl Methoxydibenzoylmethane",
    "bemotrizinol": "Bis-Ethylhexyloxyphenol Methoxyphenyl Triazine",
    "ethylhexyl_triazone": "Ethylhexyl Triazone",
    "hydrated_chromium_oxide": "Chromium Hydroxide Green",
    "tosylamide_formaldehyde_resin": "Tosylamide/Formaldehyde Resin",
    "turkey_red_oil": "Sulfated Castor Oil",
    "sodium_percarbonate": "Sodium Carbonate Peroxide",
    "octinoxate": "Ethylhexyl Methoxycinnamate",
    "tpo": "Trimethylbenzoyl Diphenylphosphine Oxide",
    "phytonadione": "Phytonadione",
    "bronopol": "2-Bromo-2-Nitropropane-1,3-Diol",
    "mci_mi": "Methylchloroisothiazolinone (and) Methylisothiazolinone",
}

# Cosmetics Regulation (EC) 1223/2009, Annex V, names of the entries as known from memory.
ANNEX_V = """
Benzoic Acid; Sodium Benzoate; Propionic Acid; Salicylic Acid; Sorbic Acid; Potassium Sorbate; o-Phenylphenol;
Methylparaben; Ethylparaben; Propylparaben; Butylparaben; Dehydroacetic Acid; Sodium Dehydroacetate;
Formic Acid; 2-Bromo-2-Nitropropane-1,3-Diol; 5-Bromo-5-Nitro-1,3-Dioxane; Dichlorobenzyl Alcohol; Triclosan;
Imidazolidinyl Urea; Diazolidinyl Urea; DMDM Hydantoin; Methenamine; Sodium Hydroxymethylglycinate;
Polyaminopropyl Biguanide; Phenoxyethanol; Phenoxyisopropanol; Benzyl Alcohol; Chlorphenesin; o-Cymen-5-ol;
Chloroxylenol; p-Chloro-m-Cresol; Methylisothiazolinone; Iodopropynyl Butylcarbamate; Benzalkonium Chloride;
Benzethonium Chloride; Undecylenic Acid; Piroctone Olamine; Climbazole; Ethyl Lauroyl Arginate HCl
"""

# 21 CFR 74 subpart C: certified colours and their colour index numbers, from the listings that the
# rows name; numbers of rows marked memory are from memory.
CERTIFIED = {
    "FD&C Blue No. 1": "CI 42090",
    "D&C Brown No. 1": "CI 20170",
    "FD&C Green No. 3": "CI 42053",
    "D&C Green No. 5": "CI 61570",
    "D&C Green No. 6": "CI 61565",
    "D&C Orange No. 4": "CI 15510",
    "D&C Red No. 6": "CI 15850",
    "D&C Red No. 7": "CI 15850",
    "D&C Red No. 21": "CI 45380",
    "D&C Red No. 27": "CI 45410",
    "D&C Red No. 30": "CI 73360",
    "D&C Red No. 33": "CI 17200",
    "D&C Red No. 36": "CI 12085",
    "FD&C Red No. 40": "CI 16035",
    "D&C Violet No. 2": "CI 60725",
    "Ext. D&C Violet No. 2": "CI 60730",
    "FD&C Yellow No. 5": "CI 19140",
    "FD&C Yellow No. 6": "CI 15985",
    "D&C Yellow No. 10": "CI 47005",
    "D&C Yellow No. 11": "CI 47000",
    "D&C Black No. 2": "CI 77266",
}


def owner_of(name: str, catalogue: Catalogue) -> str | None:
    wanted = name.lower()
    return next((s.id for s in catalogue if wanted == s.name.lower() or wanted in s.aliases), None)


@pytest.mark.parametrize(("name", "substance"), WRITTEN)
def test_a_name_as_people_write_it_is_known(name: str, substance: str) -> None:
    assert owner_of(name, load_catalogue()) == substance


@pytest.mark.parametrize("substance", INCI)
def test_the_label_name_of_a_substance_is_right(substance: str) -> None:
    known = load_catalogue().get(substance)
    assert known is not None
    assert known.inci == INCI[substance]


@pytest.mark.parametrize("name", [name.strip() for name in ANNEX_V.replace("\n", " ").split(";")])
def test_a_listed_preservative_counts_as_one(name: str) -> None:
    catalogue = load_catalogue()
    known = catalogue.get(owner_of(name, catalogue))
    assert known is not None
    assert Role.PRESERVATIVE in known.roles


LOOKALIKES = ["vitamin E", "grapefruit seed extract", "rosemary extract", "colloidal silver"]


@pytest.mark.parametrize("name", LOOKALIKES)
def test_what_only_looks_like_a_preservative_does_not_count_as_one(name: str) -> None:
    catalogue = load_catalogue()
    known = catalogue.get(owner_of(name, catalogue))
    assert known is not None
    assert Role.LOOKS_LIKE_PRESERVATIVE in known.roles
    assert Role.PRESERVATIVE not in known.roles


@pytest.mark.parametrize("name", CERTIFIED)
def test_a_certified_colour_has_its_index_number(name: str) -> None:
    catalogue = load_catalogue()
    known = catalogue.get(owner_of(name, catalogue))
    assert known is not None
    assert known.ci == CERTIFIED[name]
    assert Role.COLOURANT in known.roles


def test_an_artists_pigment_is_not_on_the_cosmetic_shelf() -> None:
    catalogue = load_catalogue()
    for name in ("cadmium_pigment", "cobalt_pigment", "lead_pigment", "phthalo_pigment"):
        assert catalogue[name].shelf is Shelf.CRAFT
