"""A catalogue of one block, one kind and four tasks, to be broken in one place at a time."""

from __future__ import annotations

import pytest

OURS = 'mark = "our_judgement"'
SMALL = {
    "sources.toml": """
[read-text]
publisher = "A university"
title = "On engines"
year = 2001
place = "page 3"
status = "read"
[quoted-text]
publisher = "A bureau"
title = "On oil"
place = "as quoted"
status = "secondary"
[lost-text]
publisher = "An institute"
title = "On storage"
place = "nowhere"
status = "unseen"
""",
    "cautions.toml": f"""
[C-STOP]
severity = "danger"
text = "Stop first."
basis = {{ {OURS} }}
""",
    "precedence.toml": f"""
[[rule]]
code = "O05"
before = ["E4-01"]
after = ["E4-02"]
sort = "order"
why = "so that it flows"
basis = {{ {OURS} }}
""",
    "catalogue/limits.toml": f"""
[L01]
name = "gap"
how = "Measure it."
direction = "between"
unit = "um"
low = {{ v = 700, mark = "published", src = ["read-text"] }}
high = {{ v = 800, {OURS} }}
basis = {{ {OURS} }}
[L02]
name = "crack"
how = "Look."
direction = "event"
event = "it is cracked"
basis = {{ {OURS} }}
""",
    "catalogue/features.toml": """
[filter]
question = "Which filter?"
values = { foam = "foam", none = "none" }
""",
    "catalogue/duties.toml": """
[dust]
question = "Is it dusty?"
""",
    "catalogue/openings.toml": """
[plug-out]
name = "plug out"
""",
    "catalogue/shapes.toml": f"""
[[shape]]
name = "flat"
default = true
regions = ["MW"]
shares = [0.083, 0.083, 0.083, 0.083, 0.083, 0.083, 0.083, 0.083, 0.083, 0.083, 0.083, 0.083]
basis = {{ {OURS} }}
""",
    "catalogue/climates.toml": f"""
[mild]
name = "mild"
means = [1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1.5]
lows = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]
highs = [2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2]
basis = {{ {OURS} }}
""",
    "catalogue/block-e4.toml": f"""
code = "E4"
item = "engine"
[parts]
plug = {{ name = "plug" }}
[[task]]
code = "E4-01"
name = "Look at the plug"
how = "Look."
sort = "condition"
basis = {{ {OURS} }}
hours = {{ v = 50, mark = "published", src = ["read-text"] }}
months = {{ v = 12, {OURS} }}
phases = ["before"]
limits = ["L01"]
minutes = {{ look = 5, do = 8, {OURS} }}
opening = "plug-out"
cautions = ["C-STOP"]
duties = {{ dust = {{ v = 0.4, {OURS} }} }}
applies = [{{ feature = "filter", values = ["foam"], unknown = true }}]
[[task]]
code = "E4-02"
name = "Fit a new plug"
how = "Turn it in."
sort = "predetermined"
basis = {{ {OURS} }}
hours = {{ v = 100, mark = "published", src = ["quoted-text"] }}
minutes = {{ look = 8, do = 8, {OURS} }}
includes = ["E4-01"]
replaces = true
parts = ["plug"]
""",
    "catalogue/kind-k01.toml": f"""
code = "K01"
name = "digger"
icon = "k01"
fuel = "four_stroke"
shape = "flat"
water = true
windows = {{ v = ["11-01..03-31"], {OURS} }}
hours_a_year = {{ v = 8, {OURS} }}
use = {{ minutes = 30, word = "run", {OURS} }}
spares = [{{ part = "plug", n = {{ v = 2, {OURS} }} }}]
[[block]]
code = "E4"
[[override]]
code = "E4-02"
hours = {{ v = 25, mark = "makers_differ" }}
[[task]]
code = "S1-01"
name = "Try the rotor"
how = "Let go."
sort = "check"
basis = {{ {OURS} }}
each_use = true
minutes = {{ look = 1, do = 5, {OURS} }}
safety = true
stop_use_if = "it turns on"
[[task]]
code = "S1-02"
name = "Turn the bar"
how = "Turn it."
sort = "predetermined"
basis = {{ {OURS} }}
nth_of = {{ task = "S1-01", v = 2, {OURS} }}
minutes = {{ look = 2, do = 2, {OURS} }}
""",
}


@pytest.fixture
def small() -> dict[str, str]:
    return dict(SMALL)
