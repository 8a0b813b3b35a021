// Smoothing against numpy, both in one run: medians in ns a point. `npm run build` first; then
//   node bench/smoothing.mjs [points] [repeats]
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = dirname(fileURLToPath(import.meta.url));
const dist = process.env.BASSLOOM_DIST ?? join(here, '..', 'dist');
const require = createRequire(import.meta.url);
const { centredMeans } = require(join(dist, 'lib/response/centredMeans.js'));
const { smoothLevels } = require(join(dist, 'lib/response/smoothLevels.js'));
const { smooth } = require(join(dist, 'lib/response/smooth.js'));
const { makeCurve } = require(join(dist, 'lib/model/makeCurve.js'));

const points = Number(process.argv[2] ?? 65_536);
const repeats = Number(process.argv[3] ?? 60);

function median(work) {
  for (let i = 0; i < 40; i++) work();
  const times = Array.from({ length: repeats }, () => {
    const start = process.hrtime.bigint();
    work();
    return Number(process.hrtime.bigint() - start);
  }).sort((a, b) => a - b);
  return times[repeats >> 1] / points;
}

const grids = {
  linear: Float64Array.from({ length: points }, (_, i) => 2 + (998 * i) / (points - 1)),
  logarithmic: Float64Array.from({ length: points }, (_, i) => 2 * 500 ** (i / (points - 1))),
};
const folder = mkdtempSync(join(tmpdir(), 'bassloom-'));
const round = (value) => value.toFixed(value < 1 ? 3 : 1).padStart(7);
try {
  for (const [name, f] of Object.entries(grids)) {
    const level = Float64Array.from(f, (hz, i) => 80 + 10 * Math.sin(hz / 7) + 5 * Math.sin(12.9898 * i));
    const power = level.map((l) => 10 ** (l / 10));
    const file = join(folder, name);
    writeFileSync(file, Buffer.concat([Buffer.from(f.buffer), Buffer.from(level.buffer)]));
    const numpy = JSON.parse(execFileSync('/usr/bin/python3', [join(here, 'smoothing.py'), file, String(repeats)]));
    const curve = makeCurve({ frequencyHz: Array.from(f), levelDb: Array.from(level) });
    console.log(`${name} grid, ${points} points, ns a point (numpy ${numpy.numpy}, node ${process.version})`);
    for (const fraction of [1, 3, 12]) {
      const core = median(() => centredMeans(f, power, fraction));
      const decibel = median(() => smoothLevels(curve.frequencyHz, curve.levelDb, fraction));
      const whole = median(() => smooth(curve, { fraction }));
      const line = (what, ours, theirs) =>
        console.log(`  1/${fraction}\t${what.padEnd(42)}${round(ours)}${round(theirs)}  ratio ${round(ours / theirs)}`);
      line('power to power, numpy exact', core, numpy[`exact ${fraction}`]);
      line('power to power, numpy interpolated sum', core, numpy[`rough ${fraction}`]);
      line('power to power, numpy shifted sum', core, numpy.shifted);
      line('dB to dB, numpy exact', decibel, numpy[`decibel ${fraction}`]);
      line('smooth() with checks and id, numpy dB to dB', whole, numpy[`decibel ${fraction}`]);
    }
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
