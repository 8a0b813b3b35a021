import { describe, expect, it } from 'vitest';
import { makeCurve } from '../../lib/model/makeCurve';
import type { ChartInput } from '../../lib/report/picture/chartInput';
import type { ChartOptions } from '../../lib/report/picture/chartOptions';
import { drawChart } from '../../lib/report/picture/drawChart';
import { sampleInput } from './sampleSession';
import { sampleSound } from './sampleSound';

const svgOf = async (input: ChartInput, options: ChartOptions = {}) =>
  new TextDecoder().decode(await drawChart(input, options));

interface Point {
  x: number;
  y: number;
}

/** All points of lines drawn in a colour, in px of the chart. */
function pointsOf(svg: string, stroke: string): Point[] {
  const paths = [...svg.matchAll(/<path d="([^"]+)"[^>]* stroke="([^"]+)"/g)].filter(
    ([, , colour]) => colour === stroke,
  );
  return paths.flatMap(([, d]) =>
    [...d.matchAll(/[ML](-?[\d.]+)[ ,](-?[\d.]+)|(?<= )(-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y, x2, y2]) => ({
      x: Number(x ?? x2),
      y: Number(y ?? y2),
    })),
  );
}

/** Where a label of an axis stands. */
function placeOf(svg: string, label: string): Point {
  const found = new RegExp(
    `<text[^>]*?(?:transform="translate\\((-?[\\d.]+) (-?[\\d.]+)\\)")[^>]*>${label}</text>`,
  ).exec(svg);
  return { x: Number(found?.[1]), y: Number(found?.[2]) };
}

const LINE = '#1a58a8';

describe('a picture of curves', () => {
  const frequencyHz = Array.from({ length: 201 }, (_, i) => 10 * 20 ** (i / 200));
  // a single peak, 10 dB high, at 40 Hz
  const curve = makeCurve({
    frequencyHz,
    levelDb: frequencyHz.map((hz) => 120 + 10 * Math.exp(-((Math.log2(hz / 40) / 0.15) ** 2))),
    scale: 'spl',
    label: 'unit A',
  });

  it('has their points at the frequencies and levels that the axes say', async () => {
    const svg = await svgOf({ measurements: [curve] });
    const points = pointsOf(svg, LINE);
    expect(points.length).toBeGreaterThan(200);
    const peak = points.reduce((a, b) => (b.y < a.y ? b : a));
    const [at40, at20, at80] = ['40', '20', '80'].map((label) => placeOf(svg, label).x);
    expect(peak.x).toBeCloseTo(at40, -0.4);
    // an octave is as wide everywhere
    expect(at80 - at40).toBeCloseTo(at40 - at20, 0);
    expect(points[0].x).toBeCloseTo(at40 - 2 * (at40 - at20), -0.4);
    const levels = [
      ...svg.matchAll(/<text[^>]*text-anchor="end"[^>]*translate\([\d.]+ ([\d.]+)\)[^>]*>(\d+)<\/text>/g),
    ];
    const [first, last] = [levels[0], levels[levels.length - 1]].map(([, y, db]) => ({ y: Number(y), db: Number(db) }));
    const dbOf = (y: number) => first.db + ((y - first.y) / (last.y - first.y)) * (last.db - first.db);
    expect(dbOf(peak.y)).toBeCloseTo(130, 0);
    expect(dbOf(points[0].y)).toBeCloseTo(120, 0);
  });

  it('shows all of them as they are, not one a setting and not smoothed', async () => {
    const many = Array.from({ length: 9 }, (_, k) =>
      makeCurve({ ...curve, levelDb: curve.levelDb.map((db) => db + k), label: `run ${k}`, about: { driveDb: 3 * k } }),
    );
    const svg = await svgOf({ measurements: many });
    for (const one of many) expect(svg).toContain(`>${one.about.driveDb ? '+' : ''}${one.about.driveDb}\u00a0dB<`);
  });

  it('stands on one scale: corrections and harmonics alone, levels on different scales not at all', async () => {
    const correction = makeCurve({ ...curve, role: 'correction', label: 'microphone' });
    const harmonic = makeCurve({
      ...curve,
      role: 'harmonic',
      order: 2,
      label: 'H2',
      levelDb: curve.levelDb.map(() => -40),
    });
    expect(await svgOf({ measurements: [harmonic] })).toContain('Level in dB re the fundamental');
    expect(await svgOf({ measurements: [harmonic, correction] })).not.toContain('re the fundamental');
    const other = makeCurve({ ...curve, scale: 'relative', label: 'unit B' });
    await expect(drawChart({ measurements: [curve, other] })).rejects.toMatchObject({ code: 'mixed-scales' });
  });

  it('reaches as far as they do, with labels there', async () => {
    const wide = makeCurve({ frequencyHz: [2, 20, 2000, 20_000], levelDb: [0, 1, 0, -1], role: 'correction' });
    const svg = await svgOf({ measurements: [wide] });
    for (const label of ['2', '20', '1000', '20000']) expect(svg).toMatch(new RegExp(`>${label}</text>`));
  });
});

describe('a picture of a finding', () => {
  const session = sampleInput();
  const sound = sampleSound();
  const ofSession: ChartInput = session;

  it('has it drawn in', async () => {
    const shown = async (kind: ChartInput['kind'], input: ChartInput = ofSession, more: Partial<ChartInput> = {}) =>
      svgOf({ ...input, kind, ...more });
    const fit = session.findings.bandFit![0];
    expect(await shown('bandFit', ofSession, { setting: 'deep' })).toMatch(new RegExp(`>${fit.lowHz.toPrecision(3)}–`));
    expect(await shown('settingDifference')).toContain('hinge 27.4\u00a0Hz');
    expect(await shown('roomFeatures')).toMatch(/>room.{1,6}s dip, Hz</);
    expect(await shown('ladder')).toMatch(/limits|gives way/);
    expect(await shown('ladder', ofSession, { view: 'map' })).toContain('dB lost');
    expect(await shown('rollOff')).toContain('corner 18.9\u00a0Hz, 24 dB per octave');
    expect(await shown('distortion', sound)).toContain('THD below 1 %');
    expect(await shown('maximumOutput', sound)).toContain('stopped by distortion');
    const captures = await shown('captureQuality', sound);
    expect(captures).toContain('trusted from 10\u00a0dB');
    expect(captures).toContain('mains hum');
    expect(captures).toMatch(/>[^<]* ×<\/text>/);
    expect(await shown('conclusions')).toContain('Response of the settings');
  });

  it('is of the first that can be drawn where none is asked for, of the curves where there is none', async () => {
    const { bandFit, ...others } = session.findings;
    expect(await svgOf(session)).toBe(await svgOf({ ...session, kind: 'bandFit' }));
    expect(await svgOf({ ...session, findings: others })).toBe(
      await svgOf({ ...session, findings: others, kind: 'rollOff' }),
    );
    expect(await svgOf({ measurements: session.measurements, findings: { notes: [] } })).toContain('>Curves<');
  });

  it('needs no curves where the finding holds all that is drawn', async () => {
    expect(await svgOf({ findings: session.findings, kind: 'ladder' })).toContain('dB lost');
    expect(await svgOf({ findings: sound.findings, kind: 'maximumOutput' })).toContain('stopped by');
  });

  it('is refused where there is nothing to draw', async () => {
    const nothing: ChartInput[] = [
      {},
      { measurements: [], findings: {} },
      { measurements: sound.measurements.filter(({ kind }) => kind === 'recording') },
      { measurements: session.measurements, findings: {}, kind: 'ladder' },
      { findings: session.findings, kind: 'rollOff' },
      { ...session, kind: 'notes' },
      { ...session, kind: 'constructor' as never },
      { ...session, kind: 'ladder', setting: 'no such' },
      { ...session, kind: 'ladder', view: 'clean' },
    ];
    for (const input of nothing) await expect(drawChart(input)).rejects.toMatchObject({ code: 'nothing-to-draw' });
  });
});

describe('the picture', () => {
  const session = sampleInput();

  it('has exactly the size asked for, as PNG and as SVG', async () => {
    for (const [widthPx, heightPx] of [
      [900, 520],
      [391, 333],
      [1801, 1040],
      [2400, 630],
    ]) {
      const png = await drawChart(session, { format: 'png', widthPx, heightPx });
      const head = new DataView(png.buffer, png.byteOffset);
      // PNG: signature, then the header chunk with width and height (ISO/IEC 15948, 5.2 and 11.2.2)
      expect([...png.slice(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
      expect([head.getUint32(16), head.getUint32(20)]).toEqual([widthPx, heightPx]);
      const svg = await svgOf(session, { widthPx, heightPx });
      expect(svg).toMatch(new RegExp(`^<svg [^>]*width="${widthPx}" height="${heightPx}"`));
    }
    expect(await svgOf(session)).toMatch(/^<svg [^>]*width="900" height="520"/);
  });

  it('keeps every kind inside its size', async () => {
    const sound = sampleSound();
    for (const kind of [
      'bandFit',
      'ladder',
      'roomFeatures',
      'settingDifference',
      'distortion',
      'maximumOutput',
    ] as const) {
      for (const [widthPx, heightPx] of [
        [900, 520],
        [390, 520],
      ]) {
        const svg = await svgOf({ ...sound, kind }, { widthPx, heightPx, credit: 'us' });
        const [, shift] = /<g transform="translate\([\d.]+ ([\d.]+)\)">/.exec(svg) ?? [];
        const feet = [...svg.matchAll(/<text[^>]*translate\([\d.]+ ([\d.]+)\)/g)].map(([, y]) => Number(y));
        expect(Math.max(...feet) + Number(shift)).toBeLessThan(heightPx - 14);
      }
    }
  });

  it('leaves out labels of levels that have no room in a low picture', async () => {
    const svg = await svgOf({ ...session, findings: {} }, { widthPx: 300, heightPx: 200 });
    const labels = [...svg.matchAll(/<text[^>]*text-anchor="end"[^>]*translate\([\d.]+ ([\d.]+)\)/g)].map(([, y]) =>
      Number(y),
    );
    expect(labels.length).toBeGreaterThan(1);
    for (const [k, y] of labels.entries()) if (k > 0) expect(Math.abs(y - labels[k - 1])).toBeGreaterThan(12);
  });

  it('has letters in a PNG on a machine without fonts', async () => {
    const [bare, titled] = await Promise.all(
      ['', 'A title'].map((title) => drawChart(session, { format: 'png', title, credit: title })),
    );
    expect(titled.length).not.toBe(bare.length);
  });

  it('has title and credit as they were given, and the colours of its theme', async () => {
    const svg = await svgOf(session, { title: 'Our title', credit: 'Lab A, CC BY 4.0', theme: 'dark' });
    expect(svg).toContain('>Our title</text>');
    expect(svg).toContain('>Lab A, CC BY 4.0</text>');
    expect(svg).toContain('<rect width="100%" height="100%" fill="#15181c"/>');
    expect(await svgOf(session, { theme: 'paper' })).toContain('fill="#ffffff"');
    expect(await svgOf(session, { title: '' })).not.toContain('font-weight="600" fill="#1b1e24">R');
  });

  it('is the same for the same input, in English where a language is not known, and shares no ids with another', async () => {
    expect(await svgOf(session, { locale: 'xx-YY' })).toBe(await svgOf(session));
    const ids = (svg: string) => new Set([...svg.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id));
    const [a, b] = [ids(await svgOf(session)), ids(await svgOf(session, { theme: 'dark' }))];
    expect(a.size).toBeGreaterThan(2);
    expect([...a].filter((id) => b.has(id))).toEqual([]);
  });

  it('takes no script, tag or broken letter from a name', async () => {
    const evil = `<script>window.pwned=1</script><img src=x onerror="window.pwned=2">"'&amp;]]>\u0000\ud800</text></svg>`;
    const input = sampleSound({ device: evil, settings: [evil, `${evil}2`] });
    for (const kind of [
      'bandFit',
      'ladder',
      'roomFeatures',
      'settingDifference',
      'distortion',
      'captureQuality',
      undefined,
    ] as const) {
      const findings = kind ? input.findings : {};
      const svg = await svgOf({ ...input, findings, kind }, { title: evil, credit: evil });
      expect(svg).not.toMatch(/<(script|img|foreignObject|a|image|use)\b|<[^>]* on\w+=|href=/i);
      expect(svg.match(/<\/svg>/g)).toHaveLength(1);
      // the renderer reads XML and refuses what is not well-formed
      expect(
        (await drawChart({ ...input, findings, kind }, { title: evil, credit: evil, format: 'png' })).length,
      ).toBeGreaterThan(1000);
    }
  });

  it('refuses sizes, formats and themes that are none, by name', async () => {
    const wrong: [ChartOptions, string][] = [
      [{ widthPx: 10 }, 'widthPx'],
      [{ heightPx: 520.5 }, 'heightPx'],
      [{ widthPx: 1e6 }, 'widthPx'],
      [{ format: 'jpg' as never }, 'format'],
      [{ theme: 'pink' as never }, 'theme'],
      [{ title: 3 as never }, 'title'],
    ];
    for (const [options, field] of wrong) {
      await expect(drawChart(session, options)).rejects.toMatchObject({ code: 'bad-option', field });
    }
  });
});
