import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import type { Curve, Recording } from '../../lib/model/curve';
import type { Findings, MaximumOutput } from '../../lib/model/findings';
import { buildReport, type Report, type ReportInput } from '../../lib/report/buildReport';
import { makeCaveat } from '../../lib/words/makeCaveat';
import { deconvolved } from '../deconvolved';
import { sampleInput } from './sampleSession';
import { BAD, CLIPPED, sampleExposure, sampleSound } from './sampleSound';

const NB = '\u00a0';

const one = (change: (findings: Findings, input: ReportInput) => void = () => {}, options = {}): ReportInput => {
  const input = sampleSound({ settings: ['deep'], points: 60, ...options });
  change(input.findings, input);
  return input;
};

const reports = new WeakMap<ReportInput, Report>();
const reportOf = (input: ReportInput): Report => {
  const report = reports.get(input) ?? buildReport(input);
  reports.set(input, report);
  return report;
};

const rowsOf = (input: ReportInput, name: string): Record<string, unknown>[] => {
  const csv = reportOf(input).tables.find((table) => table.name === name)?.csv ?? '';
  return Papa.parse<Record<string, unknown>>(csv, { header: true, dynamicTyping: true, skipEmptyLines: true }).data;
};

describe('a bad capture', () => {
  const input = one();
  const { html } = buildReport(input);

  it('is marked in charts, maps, keys and in the table of captures, under the name of its run', () => {
    expect(html).toContain('×: bad capture');
    expect(html).toContain(`>\u221212${NB}dB ×<`);
    expect(html).toContain('>\u221212 ×<');
    expect(html).toMatch(/stroke-dasharray="5,3"/);
    expect(html).toContain(`×${NB}bad`);
    expect(html).toMatch(/<th scope="row">deep \u221212\u00a0dB<\/th><td>×\u00a0bad/);
  });

  it('says what is wrong and what to do once', () => {
    expect(html.split(CLIPPED).length - 1).toBe(1);
  });

  it('is known from the curves alone where the finding is missing', () => {
    const alone = buildReport(
      one((findings) => {
        delete findings.captureQuality;
      }),
    );
    expect(alone.html).toContain('>\u221212 ×<');
    expect(alone.html).toContain('id="captures"');
  });

  it('does not mark a run that another capture measured well', () => {
    const twice = one((_, { measurements }) => {
      const bad = measurements[BAD] as Curve;
      const steps = [deconvolved('again')];
      measurements.push({ ...bad, id: 'again', label: 'again', steps });
    });
    const [distortion] = twice.findings.distortion!;
    distortion.rungs[BAD].curve = 'of both';
    twice.findings.ladder![0].rungs[BAD].id = 'of both';
    const report = buildReport(twice);
    expect(report.html).toContain(`>\u221212${NB}dB ×<`);
    expect(report.html).not.toContain('>\u221212 ×<');
  });

  it('leaves what its findings say of captures to the section on captures', () => {
    const said = makeCaveat('captures-not-good', 'doubt', { bad: 1, doubtful: 0 });
    const { html } = buildReport(
      one(({ distortion }) => {
        distortion![0].caveats = [said];
      }),
    );
    expect(html.split('see capture quality').length - 1).toBe(0);
  });
});

describe('equal warnings of many captures', () => {
  it('are said once, with the runs that they hold for', () => {
    const input = one(({ captureQuality }) => {
      captureQuality!.forEach((one, k) => {
        one.verdict = 'doubtful';
        one.warnings = [
          { code: 'hum', severity: 'doubt', values: { hz: 50 + k / 100 }, message: `Hum ${k}: move the cable.` },
        ];
      });
    });
    const { html } = buildReport(input);
    expect(html.split('move the cable').length - 1).toBe(1);
    expect(html).toContain(`9 runs, deep \u221224${NB}dB to deep 0${NB}dB`);
  });
});

describe('levels of bursts', () => {
  const words = (change: (output: MaximumOutput) => void): string =>
    buildReport(one(({ maximumOutput }) => change(maximumOutput![0]))).html.replace(/<style>[\s\S]*?<\/style>/, '');

  it('stand at the microphone where they were not brought elsewhere', () => {
    const html = words((output) => {
      output.assumption.measuredAtM = [];
      for (const one of [...output.centres, ...output.averages]) [one.peakAt1mDb, one.rmsAt2mDb] = [null, null];
    });
    expect(html).toContain('peak level at the microphone');
    expect(html).toContain('Bursts, peak at the microphone');
    expect(html).not.toMatch(/at [12]\u00a0m|, [12]\u00a0m/);
  });

  it('carry both distances in every head, and what that rests on in the same sentence', () => {
    const html = words(() => {});
    expect(html).toContain(`peak at 1${NB}m and rms at 2${NB}m, calculated from 2${NB}m by inverse distance`);
    expect(html).toMatch(
      /low bass \(20–31\.5\u00a0Hz\)<\/th><td>peak [\d.]+\u00a0dB at 1\u00a0m, rms [\d.]+\u00a0dB at 2\u00a0m, from 2\u00a0m by inverse distance \(half space\)/,
    );
    expect(html).toContain(`<th scope="col">Peak at 1${NB}m in dB</th><th scope="col">Rms at 2${NB}m in dB</th>`);
  });

  it('name the standard in the method alone', () => {
    const html = words(() => {});
    expect(html.split('CTA-2010').length - 1).toBe(1);
    expect(html.indexOf('CTA-2010')).toBeGreaterThan(html.indexOf('<div id="method">'));
  });
});

describe('the level at the ear', () => {
  it('is told with the permitted time, spelled one way', () => {
    const { html } = buildReport(one());
    expect(html).toContain(`94.0${NB}dB(A) and 112.3${NB}dB(C)`);
    expect(html).toContain(`1${NB}h a day is permitted`);
    expect(html).not.toMatch(/dBA|dBC/);
  });

  it('is said to be unknown', () => {
    const { html } = buildReport(
      one((findings) => {
        findings.exposure = { ...sampleExposure(), levelDba: null, permittedSeconds: null };
      }),
    );
    expect(html).toContain(`The A-weighted level at the ear is unknown (112.3${NB}dB(C)`);
  });

  it('warns on the first screen where the measuring took longer than is permitted', () => {
    const { html } = buildReport(
      one((findings) => {
        findings.exposure = { ...sampleExposure(), measuredSeconds: 4000 };
      }),
    );
    const first = html.slice(html.indexOf('<section id="findings"'), html.indexOf('<section id="glance"'));
    expect(first).toContain(`<p class="warning">Ears: measuring took 1${NB}h 7${NB}min; 1${NB}h a day is permitted`);
  });
});

describe('tables of recordings', () => {
  const input = one();
  const [distortion] = input.findings.distortion!;

  it('hold the numbers of the findings', () => {
    const thd = rowsOf(input, 'distortion.csv');
    expect(thd).toHaveLength(distortion.rungs.length * distortion.bandsHz.length);
    const last = distortion.rungs.length - 1;
    expect(thd.at(-1)!['THD (%)']).toBe(distortion.thdPercent[last].at(-1));
    expect(thd.at(-1)!['noise as THD (%)']).toBe(distortion.noisePercent[last].at(-1));
    const third = rowsOf(input, 'harmonics.csv').filter((row) => row.order === 3);
    expect(third[2]['level re fundamental (dB)']).toBe(distortion.harmonics[1].levelDb[0][2]);
    const levels = rowsOf(input, 'clean-levels.csv');
    expect(levels[1]['level there (dB)']).toBe(distortion.passes[0].levelDb[1]);
    const [output] = input.findings.maximumOutput!;
    const peaks = rowsOf(input, 'maximum-output.csv').map((row) => row['peak at 1 m (dB)']);
    expect(peaks).toEqual(output.centres.map(({ peakAt1mDb }) => peakAt1mDb));
    const bursts = rowsOf(input, 'maximum-output-bursts.csv');
    expect(bursts[0]['harmonic 3 (dB)']).toBe(output.centres[0].bursts[0].harmonicsDb[1]);
    const captures = rowsOf(input, 'captures.csv');
    expect(captures.map(({ verdict }) => verdict)).toEqual(
      input.findings.captureQuality!.map(({ verdict }) => verdict),
    );
    expect(captures[BAD]['clipped samples']).toBe(412);
  });

  it('keep curves of harmonics out of the curves, in a file of their own', () => {
    const harmonics = input.measurements.filter((m): m is Curve => m.kind === 'curve' && m.role === 'harmonic');
    expect(rowsOf(input, 'runs.csv').every(({ role }) => role === 'response')).toBe(true);
    const runs = rowsOf(input, 'harmonic-runs.csv');
    expect(runs).toHaveLength(harmonics.length);
    const points = rowsOf(input, 'harmonic-curves.csv');
    expect(points).toHaveLength(harmonics.reduce((sum, { frequencyHz }) => sum + frequencyHz.length, 0));
    const second = points.filter((row) => row.number === 2);
    expect(second[5]['level re fundamental (dB)']).toBeCloseTo(harmonics[1].levelDb[5], 2);
    expect(runs[1]).toMatchObject({ curve: harmonics[1].id, order: harmonics[1].order });
  });

  it('leave out curves of harmonics that are too many; the page carries them thinned, and says so', () => {
    const many = one((_, { measurements }) => {
      const harmonic = measurements.find((m): m is Curve => m.kind === 'curve' && m.role === 'harmonic')!;
      const frequencyHz = Array.from({ length: 50_001 }, (_, k) => 10 + k / 1000);
      measurements.push({ ...harmonic, frequencyHz, levelDb: frequencyHz.map(() => -40), noiseDb: undefined });
    });
    const report = buildReport(many);
    const names = report.tables.map(({ name }) => name);
    expect(names).toContain('harmonic-runs.csv');
    expect(names).not.toContain('harmonic-curves.csv');
    expect(names).toContain('curves.csv');
    expect(report.html).toContain('table, thinned to 24 points an octave');
  });

  it('name recordings without holding their sound', () => {
    const wav = Buffer.from('RIFF a sound that must not be in the page');
    const listed = one((_, { measurements }) => {
      const recording = measurements.find((m): m is Recording => m.kind === 'recording')!;
      measurements.push({
        ...recording,
        wav,
        id: 'abc123',
        label: 'Sweep of the stairwell',
        role: 'stimulus',
        seconds: 12.25,
      });
    });
    const { html } = buildReport(listed);
    expect(html).toContain(
      'Sweep of the stairwell</th><td>stimulus</td><td class="number">48000</td><td class="number">1</td><td class="number">12.25</td><td>abc123',
    );
    expect(html).not.toContain(wav.toString('base64').slice(0, 40));
    expect(html).not.toContain('a sound that must not');
  });
});

describe('a report without recordings', () => {
  it('has nothing of what recordings add', () => {
    const { html, tables } = buildReport(sampleInput());
    const words = html.replace(/<style>[\s\S]*?<\/style>/, '').replace(/data:[^"]*/g, '');
    expect(words).not.toMatch(/THD|[Cc]aptures?\b|NIOSH|Maximum output|Recordings|bad capture/);
    expect(
      tables.map(({ name }) => name).filter((name) => /harmonic|distortion|output|capture|clean/.test(name)),
    ).toEqual([]);
  });

  it('shows the same compression map where distortion lies beside it, on the same bands', () => {
    const svg = (input: ReportInput): string =>
      /<svg [^>]*aria-labelledby="fig-map-1-w-t"[\s\S]*?<\/svg>/.exec(buildReport(input).html)![0];
    const beside = sampleSound({ settings: ['deep'], points: 60 });
    const alone = sampleInput({ settings: ['deep'], points: 60 });
    for (const one of beside.findings.captureQuality!) one.verdict = 'good';
    for (const one of beside.measurements) if (one.kind === 'curve') one.steps = one.steps.slice(1);
    const texts = (html: string): string[] => [...html.matchAll(/<text[^>]*>([^<]*)</g)].map(([, text]) => text);
    expect(texts(svg(beside))).toEqual(texts(svg(alone)));
  });
});
