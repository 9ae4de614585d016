"""Random jobs over the whole job format, as a file has them; the same seed gives the same job.

A job is first made as keys and words. Lengths are sensible ones of a workroom in inches, or those times 5/2 in
centimetres. Pieces, where there are some, are cut to about what is ordered; one job in six has hardly enough.
"""

from __future__ import annotations

import json
import random
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from jobs.cutting.cloths import jobs_of_cloths
from jobs.io.reader import parse_job
from jobs.model.problems import JobRefused
from tests.jobs.made import ordered

Keys = dict[str, Any]
TWO_WAYS = ("pm", "pg", "cm", "pmg", "p3m1", "p31m")
GROUPS = ("p1", "p2", "pmm", "pgg", "cmm", "p4", "p4m", "p4g", "p3", "p6", "p6m", *TWO_WAYS)
MIRROR_OF = {"pm": "mirror", "pg": "glide", "cm": "mirror", "pmg": "glide", "p3m1": "mirror", "p31m": "mirror"}
BOTH = {"pmm": "mirror", "pgg": "glide", "cmm": "mirror", "p4m": "mirror", "p4g": "glide", "p6m": "mirror"}


def job_text(seed: int) -> str:
    """The text of a job file."""
    maker = _Maker(random.Random(seed))
    keys = maker.job()
    if maker.may(3, 5):
        maker.add_pieces(keys)
    return json.dumps(keys, indent=1)


def _lines(sheet: Keys) -> set[str]:
    """What mirrors a print, as its keys say it or as its plane group does."""
    group = sheet.get("group", "")
    of_group = BOTH.get(group, MIRROR_OF.get(group, "none"))
    found = {sheet.get("top_to_bottom", of_group), sheet.get("side_to_side", of_group)}
    return found - {"none"} or {"none"}


class _Maker:
    """Throws the dice and remembers the unit."""

    def __init__(self, dice: random.Random) -> None:
        self.dice = dice
        self.metric = dice.random() < 0.25

    def may(self, times: int, of: int) -> bool:
        return self.dice.randrange(of) < times

    def pick(self, *among: Any) -> Any:
        return self.dice.choice(among)

    def length(self, inches: Fraction | int) -> str:
        """A number in the unit of the file; of inches a whole one and a fraction."""
        if self.metric:
            return str(float(Fraction(inches) * 5 / 2))
        whole, part = divmod(Fraction(inches), 1)
        return f"{whole} {part}" if part and whole else str(part or whole)

    def between(self, low: int, high: int, parts: int = 2) -> str:
        return self.length(Fraction(self.dice.randrange(low * parts, high * parts + 1), parts))

    def job(self) -> Keys:
        sideways = self.may(1, 5)
        cloths = [self.cloth(f"Cloth {number}", sideways and number == 0) for number in range(self.pick(1, 1, 2, 3))]
        keys: Keys = {"job": "Any house", "units": "cm" if self.metric else "in"}
        if self.may(1, 6):
            keys["cloths"] = cloths
        else:
            keys["cloth"] = cloths[0]
            if cloths[1:]:
                keys["cloths"] = cloths[1:]
        keys["allowances"] = self.allowances() | {"squaring": self.pick("0", self.length(1))}
        if self.may(1, 3):
            keys["allowances"]["least_seam"] = self.pick("0", self.length(Fraction(1, 4)), self.length(1))
        if self.may(1, 3):
            keys["returns_added"] = self.pick("before fullness", "after fullness")
        if self.may(1, 3):
            keys["flaws_may_lie_in"] = self.dice.sample(["heading", "hem", "side hem"], self.pick(1, 2, 3))
        if self.may(1, 6):
            keys["pins"] = {"spacing": self.length(5)}
        if self.may(1, 6):
            keys["table"] = {"length": self.length(120), "width": self.length(60)}
        windows: list[Keys] = []
        for number in range(self.pick(1, 1, 2, 2, 3, 4)):
            windows.append(self.window(f"Window {number}", cloths, windows))
        keys["windows"] = windows
        if self.may(1, 4):
            keys["flat_panels"] = self.flat_panels(cloths)
        if self.may(1, 4):
            keys["wanted"] = [self.thing(f"Cushion {number}", cloths) for number in range(self.pick(1, 2))]
        return keys

    def cloth(self, name: str, sideways: bool) -> Keys:
        keys: Keys = {"name": name, "width": self.length(118 if sideways else self.pick(48, 54, 55, 56, 60))}
        half = self.length(Fraction(1, 2))
        keys["selvedge"] = self.pick("0", half, half, self.length(1), {"near": half, "far": self.length(1)})
        if sideways:
            keys |= {"run": "sideways", "shrinkage_across": self.pick("0 %", "1 %")}
        keys["shrinkage"] = self.pick("0 %", "0 %", "3 %", "2.5 %")
        if self.may(1, 5):
            keys["faces_alike"] = "yes"
        if self.may(1, 6):
            keys["order_by"] = "handbook"
        if self.may(1, 8):
            keys["side_by_side"] = "no"
        if self.may(1, 10) and not sideways:
            keys |= {"border": self.pick("near", "far"), "border_leads": self.pick("both", "one")}
        if self.may(1, 4):
            # Plain cloth, or pile and sheen.
            keys["print"] = {"one_way": self.pick("yes", "no")}
            return keys
        along = self.pick(6, 9, Fraction(99, 8), 18, 25, 25, 40)
        across = self.pick(9, Fraction(27, 2), Fraction(27, 2), 18, 24, 27, 27, 54, 60, 27 if sideways else None)
        keys["repeat"] = {"along": self.length(along)} | ({"across": self.length(across)} if across else {})
        if self.may(1, 4):
            keys["repeat_tolerance"] = self.pick("1 %", "2 %")
        keys["print"] = self.symmetry(along, across, sideways)
        keys["drop"] = self.drop(keys["print"])
        if across and self.may(1, 4):
            keys["first_column"] = self.length(Fraction(self.dice.randrange(int(across)), 2))
        if self.may(1, 12):
            self.forget(keys)
        return keys

    def drop(self, sheet: Keys) -> str:
        """Seldom one that no print has which mirrors: no other than 0 and 1/2, and with a slide no drop at all."""
        lines = _lines(sheet)
        if lines == {"none"} or self.may(1, 10):
            return self.pick("0", "1/2", "1/3", "1/4")
        return "0" if "glide" in lines else self.pick("0", "0", "1/2")

    def forget(self, keys: Keys) -> None:
        """Something of the print is not known yet."""
        for key in self.dice.sample(["drop", "one_way"], self.pick(1, 2)):
            (keys if key == "drop" else keys["print"]).pop(key, None)

    def symmetry(self, along: Fraction, across: Fraction | None, sideways: bool) -> Keys:
        group = self.pick(*GROUPS)
        down = BOTH.get(group, "none")
        aside = down
        if group in TWO_WAYS:
            other = "mirror" if group == "pmg" else "none"
            down, aside = self.pick((MIRROR_OF[group], other), (other, MIRROR_OF[group]))
        if self.may(1, 2):
            keys = {"group": group} | ({"top_to_bottom": down} if group in TWO_WAYS else {})
        else:
            keys = {"top_to_bottom": down, "side_to_side": aside}
            if down == aside == "none":
                keys["half_turn"] = "yes" if group in ("p2", "p4", "p6") else "no"
        keys["one_way"] = self.pick("yes", "no", "no")
        if down != "none" and self.may(1, 2):
            keys["mirror_offset"] = self.length(Fraction(self.dice.randrange(int(2 * along)), 2))
        if aside != "none" and across and self.may(1, 2):
            keys["mirror_offset_across"] = self.length(Fraction(self.dice.randrange(int(2 * across)), 2))
        if self.may(1, 3) and not sideways:
            keys["top_towards"] = self.pick("first end", "last end")
        return keys

    def allowances(self) -> Keys:
        keys: Keys = {"side_hem": self.pick("0", self.length(2), self.length(3))}
        keys["seam"] = self.pick("0", self.length(Fraction(1, 2)), self.length(Fraction(1, 2)), self.length(1))
        if self.may(1, 3):
            keys["heading_kind"] = self.pick("pinch pleats", "gathered", "eyelets", "tabs")
        if "heading_kind" not in keys or self.may(1, 2):
            keys["heading"] = self.pick("0", self.length(4))
        if self.may(1, 3):
            keys["hem_kind"] = self.pick("double", "puddled", "narrow", "faced")
        if "hem_kind" not in keys or self.may(1, 2):
            keys["hem"] = self.pick("0", self.length(8))
        return keys

    def window(self, name: str, cloths: Sequence[Keys], before: Sequence[Keys]) -> Keys:
        cloth = self.pick(cloths[0], *cloths)
        sideways = cloth.get("run") == "sideways"
        tall = Fraction(self.dice.randrange(80, 190), 2)
        keys: Keys = {"name": name, "panels": self.pick("pair", "pair", "pair", "left", "right", "whole")}
        keys |= {
            "finished_length": self.length(tall),
            "top_height": self.length(tall + self.pick(0, Fraction(1, 2), 6)),
        }
        if cloth is not cloths[0]:
            keys["cloth"] = cloth["name"]
        if keys["panels"] == "pair":
            can = cloth.get("faces_alike") or _lines(cloth.get("print", {})) != {"none"} or "repeat" not in cloth
            keys["hang"] = self.pick("mirrored", "mirrored", "same") if can or self.may(1, 6) else "same"
            if keys["hang"] == "mirrored" and self.may(1, 6):
                keys["facing"] = self.pick("left as it lies", "right as it lies")
        by_rod = sideways or self.may(1, 2)
        if by_rod:
            keys |= {"rod": self.between(15, 110), "fullness": self.pick("1", "1 1/2", "2", "2 1/2")}
            keys |= {"returns": self.pick("0", self.length(Fraction(7, 2))), "overlap": self.pick("0", self.length(4))}
        else:
            keys["cuts_per_panel"] = self.pick("1/2", "1", "1", "1 1/2", "2", "2 1/2", "3")
        if not sideways and self.may(1, 5):
            keys["half_at"] = "both sides" if keys["panels"] == "whole" and self.may(1, 2) else "leading edge"
        if "repeat" in cloth:
            levels = [one["name"] for one in before if one.get("cloth") == keys.get("cloth")]
            row = self.row(tall, levels)
            if row and not (sideways and self.may(2, 3)):
                keys["row"] = row
        if self.may(1, 3):
            keys["room"] = self.pick("Hall", "Study")
        if self.may(1, 4):
            keys["allowances"] = self.allowances()
        if self.may(1, 8):
            keys["side_by_side"] = "no"
        self.sewn_to(keys, cloth, cloths, by_rod)
        return keys

    def row(self, tall: Fraction, levels: Sequence[str]) -> Keys | None:
        down = self.length(Fraction(self.dice.randrange(int(tall)), 2))
        kinds: list[Keys | None] = [None, {"below_top": down}, {"above_foot": down}]
        if levels:
            kinds += [{"level_with": self.pick(*levels)}] * 3
        return self.pick(*kinds)

    def sewn_to(self, keys: Keys, cloth: Keys, cloths: Sequence[Keys], by_rod: bool) -> None:
        """Lining, interlining, bands and tie-backs, each from any cloth that may be used for it."""
        alike = [one for one in cloths if by_rod or one["width"] == cloth["width"]]
        if self.may(1, 5) and alike:
            keys["lining"] = {"cloth": self.pick(*alike)["name"], "shorter": self.length(1)}
            if by_rod:
                keys["lining"]["narrower"] = self.pick("0", self.length(1))
            if self.may(1, 2):
                keys["lining"] |= {"hem": self.length(4), "side_hem": self.length(1)}
        if self.may(1, 8) and alike:
            keys["interlining"] = {"cloth": self.pick(*alike)["name"], "heading": "0", "hem": "0"}
        if self.may(1, 5):
            edges = ("leading", "top", "foot") if by_rod else ("leading",)
            band = {"edge": self.pick(*edges), "width": self.between(2, 6), "cloth": self.pick(*cloths)["name"]}
            keys["bands"] = [band | {"cut": self.pick("along", "along", "across")}]
        if self.may(1, 6):
            ties = {"length": self.between(18, 26), "width": self.between(3, 5), "cloth": self.pick(*cloths)["name"]}
            keys["tie_backs"] = ties | {"pieces": self.pick("1", "2")}

    def flat_panels(self, cloths: Sequence[Keys]) -> list[Keys]:
        cloth = self.pick(*cloths)
        first: Keys = {
            "name": "Shade",
            "width": self.pick(self.between(16, 46), self.between(16, 46), self.between(56, 110)),
            "finished_length": self.between(14, 60),
        }
        first |= {"count": self.pick("1", "1", "2"), "cloth": cloth["name"]}
        first["middle"] = self.pick("motif", "motif", "gap", "anything")
        if "repeat" in cloth and self.may(1, 2):
            first["row"] = {self.pick("below_top", "above_foot"): self.between(0, 12)}
        if self.may(1, 2):
            first["allowances"] = {"heading": self.length(2), "hem": self.length(3), "side_hem": self.length(1)}
        found = [first]
        if "repeat" in cloth and self.may(1, 3):
            beside = {"name": "Shade beside", "beside": "Shade", "apart": self.between(0, 10), "count": "1"}
            found.append(first | beside)
        return found

    def thing(self, name: str, cloths: Sequence[Keys]) -> Keys:
        cloth = self.pick(*cloths)
        keys: Keys = {"name": name, "size": [self.between(8, 22), self.between(8, 22)], "cloth": cloth["name"]}
        keys |= {"count": self.pick("1", "2", "3"), "seam": self.pick("0", self.length(Fraction(1, 2)))}
        keys |= {"backs": self.pick("yes", "no"), "order": self.pick("yes", "yes", "no")}
        if "repeat" in cloth:
            keys["row"] = self.pick("centred", "anywhere")
            if keys["row"] == "centred" and self.may(1, 4):
                keys["point"] = [self.between(0, 5), self.between(0, 5)]
        return keys

    def add_pieces(self, keys: Keys) -> None:
        """Pieces with flaws and dye lots for each cloth, sized by what is ordered; wishes for some places."""
        try:
            bought = {one.name: ordered(one.job).buy for one in jobs_of_cloths(parse_job(json.dumps(keys), "made"))}
        except JobRefused:
            return
        for cloth in [*([keys["cloth"]] if "cloth" in keys else []), *keys.get("cloths", [])]:
            if cloth["name"] not in bought:
                continue
            count, inches = self.pick(1, 1, 2, 3), bought[cloth["name"]] * (Fraction(127, 125) if self.metric else 1)
            needed = inches * self.pick(Fraction(19, 20), Fraction(6, 5), Fraction(3, 2), Fraction(3, 2), 2, 2)
            lots = self.dice.sample(["41", "42", "43"], 2)
            cloth["pieces"] = [self.piece(cloth, int(needed / count) + 1, self.pick(*lots)) for _ in range(count)]
        if self.may(1, 5):
            first, hand = keys["windows"][0], self.pick("left", "right")
            hand = hand if first["panels"] == "pair" else first["panels"]
            first["places"] = [{"panel": hand, "near": self.between(0, 200)}]
        for thing in (*(one.get("tie_backs", {}) for one in keys["windows"]), *keys.get("flat_panels", [])):
            if thing and self.may(1, 5):
                thing["places"] = [{"panel": "whole", "cut": self.pick(1, 1, 2), "near": self.between(0, 200)}]

    def piece(self, cloth: Keys, inches: int, lot: str) -> Keys:
        keys: Keys = {"length": self.length(inches), "dye_lot": lot}
        if "repeat" in cloth:
            keys["first_row"] = self.between(0, min(5, inches))
        flaws = []
        for _ in range(self.pick(0, 0, 1, 2)):
            start, ends = Fraction(self.dice.randrange(2 * inches), 2), Fraction(inches)
            flaw: Keys = {"from": self.length(start), "to": self.length(min(start + self.pick(1, 2), ends))}
            if self.may(1, 2):
                flaw["across"] = [self.length(20), self.length(24)]
            flaws.append(flaw)
        return keys | ({"flaws": flaws} if flaws else {})
