"""A key pair of the tests' own, and drills that are sealed with it."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace

from leverstep.bench.contents import link_of
from leverstep.drill.drill import Drill
from leverstep.drill.seal_key import PrivateKey

from helpers.drills import drill_with

ONE = int(
    "e401e2390849b8ee778dae3db5fa3931c1bd463a70d87ebae66c209503fa2d3415d5c301a1b3032e"
    "d2f40357a83f826fd0c16a05047b66fbc5c2c2be06cebcfaca0eda561a74829b7ad0ee34bb4e42e5"
    "065c08a4dbbc6ea9bddab33d5fbf62d36037166d7248d797fab042b5c3daa0e94065a0003fe0bca4"
    "22a0e32ea328acc3",
    16,
)
OTHER = int(
    "baa8f357ae8c2fa869dc5ab2111d470d89a38bb12c2baf47b8cea15ea38bb0091271022ad4d4fafd"
    "ad6c3815d59f08238aa8c8c13df571f91beaba4f4397c342ce28ca33a591c386d58deabb30ef72a8"
    "d37b1917f05dcdbbbee53f521785897cb48c2184260ab82920254189fb85ee97dced93b59650674d"
    "bba3108f1a07aa33",
    16,
)
KEY = PrivateKey(ONE * OTHER, ONE, OTHER, pow(65537, -1, (ONE - 1) * (OTHER - 1)))
RULE = f'seal = "{KEY.public}"'


def sealed_drill(rules: str = "", keys: Sequence[PrivateKey] = (KEY,)) -> Drill:
    """Return a sealed drill as its teacher marks it; without keys as a student sits it."""
    return replace(drill_with(f"{RULE}\n{rules}"), seal_keys=tuple(keys))


def relinked(lines: Sequence[bytes]) -> bytes:
    """Return some lines of a record with links that hold, as anybody can reckon them."""
    link, data = "", b""
    for line in lines:
        fields = json.loads(line)
        fields.pop("link", None)
        link = link_of(link, fields)
        data += json.dumps({**fields, "link": link}, sort_keys=True).encode() + b"\n"
    return data
