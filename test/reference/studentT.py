"""Two-sided 95 % points of Student's t from scipy, for test/analysis/ladder.test.ts. Run: /usr/bin/python3 studentT.py"""

import json
from pathlib import Path

import scipy
from scipy.stats import t

FREEDOM = [*range(1, 31), 40, 60, 120]
values = [[n, round(float(t.ppf(0.975, n)), 4)] for n in FREEDOM]
out = {"source": "scipy.stats.t.ppf(0.975, n)", "scipy": scipy.__version__, "values": values}
Path(__file__).with_suffix(".json").write_text(json.dumps(out, indent=1) + "\n")
