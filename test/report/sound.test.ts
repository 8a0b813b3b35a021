import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import type { Curve, Recording } from '../../lib/model/curve';
import type { Distortion, Findings, MaximumOutput } from '../../lib/model/findings';
import { nominalHz } from '../../lib/model/octaves';
import { buildReport, type Report, type ReportInput } from '../../lib/report/buildReport';
import { sortSession } from '../../lib/report/session';
import { textOf } from '../../lib/report/verdict/sentence';
import { writeVerdict } from '../../lib/report/verdict/writeVerdict';
import { sampleInput } from './sampleSession';
import { BAD, DOUBTFUL, sampleExposure, sampleSound } from './sampleSound';

const NB = '\u00a0';

const one = (change: (findings: Findings, input: ReportInput) => void = () => {}, options = {}): ReportInput => {
  const input = sampleSound({ settings: ['deep'], points: 60, ...options });
  change(input.findings, input);
  return input;
};

const about = (verdict: string[], words: string): string => {
  const found = verdict.filter((sentence) => sentence.includes(words));
  expect(found, `one sentence with '${words}' in:\n${verdict.join('\n')}`).toHaveLength(1);
  return found[0];
};

/** The verdict alone: nothing is drawn. */
const told = ({ topic, measurements, findings }: ReportInput): string[] =>
  writeVerdict(sortSession(topic, measurements, findings), () => undefined).map(textOf);

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

/** A finding of distortion with clean levels typed by hand. */
function handMade(levelDb: (number | null)[], reached: boolean[], driveDb: (number | null)[]): Distortion {
  const bandsHz = [20, 25, 31.5, 40, 50, 63].map((hz) => 10 ** (Math.round(10 * Math.log10(hz)) / 10));
  const rows = <T>(value: T): T[][] => [0, 1, 2].map(() => bandsHz.map(() => value));
  return {
    rungs: [0, 10, 20].map((drive) => ({ curve: `c${drive}`, label: `${drive}`, driveDb: drive })),
    bandsHz,
    thdToOrder: 5,
    thdPercent: [2, 4, 8].map((percent) => bandsHz.map(() => percent)),
    harmonics: [{ order: 2, levelDb: rows(-30) }],
    noisePercent: rows(0.1),
    trusted: rows(true),
    levelDb: [80, 90, 100].map((level) => bandsHz.map(() => level)),
    scale: 'spl',
    passes: [{ percent: 3, driveDb, levelDb, reached }],
    caveats: [],
  };
}

const verdictOf = (distortion: Distortion): string[] =>
  told({ topic: 'Unit', measurements: [], findings: { distortion: [distortion] } });

describe('sentences on distortion', () => {
  it('give range and level up to which THD stays low, without ends that are much worse, and with them', () => {
    const verdict = verdictOf(handMade([71.2, 90.4, 92.1, 95, 94.6, 93.3], Array(6).fill(true), [3.1, 5, 6, 7, 8, 9]));
    expect(verdict[0]).toBe(
      `THD stays below 3${NB}% from 25 to 63${NB}Hz up to 90.4${NB}dB, and from 20 to 63${NB}Hz up to 71.2${NB}dB, as measured in this room. It passes 3${NB}% first at 20${NB}Hz, at 71.2${NB}dB (+3.1${NB}dB of drive).`,
    );
  });

  it('leave out ends that the unit hardly plays, however clean they are', () => {
    const never = handMade([92, 93, 95, 94, 84, 76], Array(6).fill(false), Array(6).fill(null));
    expect(verdictOf(never)[0]).toContain(`below 3${NB}% from 20 to 40${NB}Hz up to at least 92.0${NB}dB, as`);
    // 12 dB below the loudest quarter it may pass a percentage or not: it is no part of the range
    const passed = (level: number) => {
      const distortion = handMade([92, 93, 95, 94, level, 76], Array(6).fill(true), [6, 6, 6, 6, 3, 3]);
      distortion.levelDb = [[92, 93, 95, 94, level, 76]];
      return verdictOf(distortion)[0];
    };
    expect(passed(83)).toContain(
      `from 20 to 40${NB}Hz up to 92.0${NB}dB, and from 20 to 50${NB}Hz up to 83.0${NB}dB, as`,
    );
    expect(passed(81)).toContain(`from 20 to 40${NB}Hz up to 92.0${NB}dB, as`);
  });

  it('say that first is not certain where bands are dirty from the start', () => {
    const distortion = handMade([80, 92, 92, 92, 92, 92], Array(6).fill(true), [6, 3, 12, 12, 12, 12]);
    expect(verdictOf(distortion)[0]).toContain(`It passes 3${NB}% first at 25${NB}Hz`);
    distortion.passes[0].driveDb[0] = 12;
    distortion.rungs.forEach((rung, k) => {
      rung.driveDb = 6 * k;
    });
    for (const [k, row] of distortion.thdPercent.entries()) {
      row[0] = 5;
      distortion.trusted[k] = row.map(() => k === 2);
    }
    expect(verdictOf(distortion)[0]).toContain(`As far as can be told, it passes 3${NB}% first at 25${NB}Hz`);
  });

  it('say at least where no band passed, and pass over bands that nothing is known of', () => {
    const verdict = verdictOf(
      handMade([null, 100.04, 101, 102, 100.5, null], Array(6).fill(false), Array(6).fill(null)),
    );
    expect(verdict[0]).toBe(
      `THD stays below 3${NB}% from 25 to 50${NB}Hz up to at least 100.0${NB}dB, as measured in this room.`,
    );
  });

  it('do not call clean what was dirty already in the quietest run that tells', () => {
    const distortion = handMade([80, 92, 92, 92, 92, 92], Array(6).fill(true), [0, 12, 12, 12, 12, 12]);
    distortion.thdPercent[0][0] = 5;
    const [sentence] = verdictOf(distortion);
    expect(sentence).toContain(`from 25 to 63${NB}Hz up to 92.0${NB}dB, as measured in this room`);
    expect(sentence).toContain(`first at 20${NB}Hz, at 80.0${NB}dB or less (in the quietest run)`);
    const everywhere = handMade(Array(6).fill(80), Array(6).fill(true), Array(6).fill(0));
    everywhere.thdPercent[0].fill(5);
    expect(verdictOf(everywhere)[0]).toMatch(/^THD is above 3\u00a0% wherever it is known\./);
    const { html } = buildReport({ topic: 'Unit', measurements: [], findings: { distortion: [everywhere] } });
    expect(html).toContain('at most: passed from the start');
    expect(html).toContain('≤ 80.0');
  });

  it('tell THD of the loudest run that can be trusted, as the finding has it', () => {
    const input = one();
    const [distortion] = input.findings.distortion!;
    const last = distortion.rungs.length - 1;
    const sentence = about(told(input), 'THD is highest');
    expect(sentence).toContain(
      `in the run at +24${NB}dB THD is highest at 12.5${NB}Hz, ${distortion.thdPercent[last][0]!.toFixed(0)}${NB}%`,
    );
    const at40 = distortion.bandsHz.findIndex((hz) => nominalHz(hz) === 40);
    expect(sentence).toContain(`${distortion.thdPercent[last][at40]!.toFixed(1)}${NB}% at 40${NB}Hz`);
    expect(sentence).toContain('mostly 2nd harmonic');
  });

  it('leave a bad capture aside when they choose that run', () => {
    const input = one(({ captureQuality }, { measurements }) => {
      const loudest = measurements.filter((m): m is Curve => m.kind === 'curve' && m.role === 'response').at(-1)!;
      loudest.steps[0].with.verdict = 'bad';
      captureQuality!.at(-1)!.verdict = 'bad';
    });
    expect(about(told(input), 'THD is highest')).toContain(`in the run at +21${NB}dB`);
  });

  it('say so where no THD stands out of the noise', () => {
    const lost = handMade(Array(6).fill(null), Array(6).fill(false), Array(6).fill(null));
    lost.trusted = lost.trusted.map((row) => row.map(() => false));
    expect(verdictOf(lost)).toEqual(['No THD can be told: harmonics do not stand clear of the noise.']);
  });

  it('say that levels are relative where they are', () => {
    expect(about(told(one(undefined, { scale: 'relative' })), 'THD stays')).toMatch(/−\d+\.\d\u00a0dB \(relative\)/);
  });
});

describe('sentences on maximum output', () => {
  const words = (change: (output: MaximumOutput) => void): string =>
    told(one(({ maximumOutput }) => change(maximumOutput![0]))).find((one) => one.includes('burst'))!;

  it('give averages, centres and what stopped it, as the finding has them', () => {
    const [output] = one().findings.maximumOutput!;
    const sentence = words(() => {});
    expect(sentence).toContain(`104.0${NB}dB peak (95.0${NB}dB rms) in the low bass (20–31.5${NB}Hz)`);
    expect(sentence).toContain(`${output.centres[0].peakAt1mDb!.toFixed(1)}${NB}dB at 20${NB}Hz`);
    expect(sentence).toContain(`at least ${output.centres[5].peakAt1mDb!.toFixed(1)}${NB}dB at 63${NB}Hz`);
    expect(sentence).toContain(
      'stopped by the end of the schedule at 4 of 8 centres, distortion at 3 and compression at 1',
    );
  });

  it('leave out averages with a centre missing and say where nothing passed', () => {
    const without = words(({ averages }) => {
      averages[0].peakAt1mDb = null;
      averages[0].rmsAt2mDb = null;
    });
    expect(without).not.toContain('low bass');
    const nothing = words(({ centres }) => {
      for (const centre of centres) centre.peakAt1mDb = null;
    });
    expect(nothing).toContain('no burst passed the limits for maximum output at any centre');
  });

  it('do not speak of 1 m where the distance is not known', () => {
    const sentence = words((output) => {
      output.measuredAtM = null;
    });
    expect(sentence).toContain('levels at the microphone');
    expect(sentence).not.toMatch(/1\u00a0m/);
  });

  it('point to the standard, with the limits that were used', () => {
    const { html } = buildReport(one());
    expect(html).toContain(
      'published descriptions of the consumer subwoofer output standard CTA-2010; the standard itself is to be consulted',
    );
    expect(html).toContain(
      `harmonic 2: −10${NB}dB, harmonic 3: −15${NB}dB, harmonics 4 to 5: −20${NB}dB, harmonics 6 to 8: −30${NB}dB, harmonics 9 and up: −40${NB}dB`,
    );
  });
});

describe('a bad capture', () => {
  const input = one();
  const { html, verdict } = buildReport(input);
  const quality = input.findings.captureQuality![BAD];

  it('is named first of all, with what is wrong and what to do', () => {
    expect(verdict[0]).toContain('1 capture is bad and must not be used');
    expect(verdict[0]).toContain(quality.label);
    expect(verdict[0]).toContain(quality.warnings[0]);
    expect(about(verdict, '7 of 9 captures')).toContain(
      `1 capture is doubtful (‘${input.findings.captureQuality![DOUBTFUL].label}’)`,
    );
  });

  it('is marked in charts, maps and keys', () => {
    expect(html).toContain('×: bad capture');
    expect(html).toContain('+12 dB ×');
    expect(html).toContain('+12 ×');
    expect(html).toMatch(/stroke-dasharray="5,3"/);
    expect(html).toContain(`×${NB}bad`);
  });

  it('is known from the curves alone where the finding is missing', () => {
    const alone = buildReport(
      one((findings) => {
        delete findings.captureQuality;
      }),
    );
    expect(alone.verdict[0]).toContain('1 capture is bad');
    expect(alone.html).toContain('+12 ×');
    expect(alone.html).toContain('id="captures"');
  });

  it('does not mark a run that another capture measured well', () => {
    const twice = one((_, { measurements }) => {
      const bad = measurements[BAD] as Curve;
      const steps = [
        { ...bad.steps[0], with: { ...bad.steps[0].with, capture: 'again', verdict: 'good', warnings: [] } },
      ];
      measurements.push({ ...bad, id: 'again', label: 'again', steps });
    });
    const [distortion] = twice.findings.distortion!;
    distortion.rungs[BAD].curve = 'of both';
    twice.findings.ladder![0].rungs[BAD].id = 'of both';
    const report = buildReport(twice);
    expect(report.html).toContain('+12 dB ×');
    expect(report.html).not.toContain('>+12 ×<');
  });

  it('is said once beside a finding, and its warnings are not repeated there', () => {
    const caveat = `${quality.label}: this capture is bad: ${quality.warnings[0].replace(/\.$/, '')}; see capture quality.`;
    const verdict = told(
      one(({ distortion }) => {
        distortion![0].caveats = [caveat, caveat.replace('bad', 'doubtful'), 'Above 100 Hz the room prevails.'];
      }),
    );
    expect(about(verdict, 'THD stays')).toMatch(/To be taken with care: Above 100 Hz the room prevails\.$/);
    const only = buildReport(
      one(({ distortion }) => {
        distortion![0].caveats = [caveat];
      }),
    );
    expect(about(only.verdict, 'THD stays')).toMatch(
      /To be taken with care: it rests on a capture that is bad; see captures\.$/,
    );
    expect(only.html.split('see capture quality').length - 1).toBe(0);
  });
});

describe('the level at the ear', () => {
  it('is told with the permitted time and what A-weighting hides', () => {
    const { html, verdict } = buildReport(one());
    expect(about(verdict, 'NIOSH')).toContain(
      `94.0${NB}dBA (read from a meter at the seat); 1${NB}h a day is permitted`,
    );
    expect(html).toContain('Low bass can harm at levels that A-weighting hides');
    expect(html).toContain('Follow the rules of the place');
  });

  it('is said not to be known, and how to know it', () => {
    const { html, verdict } = buildReport(
      one((findings) => {
        findings.exposure = { ...sampleExposure(), levelDba: null, levelDbc: null, permittedSeconds: null };
      }),
    );
    expect(verdict.join()).not.toContain('NIOSH');
    expect(html).toContain('The A-weighted level at the ear is not known');
    expect(html).toContain('sound level meter');
  });

  it('warns where the measuring took longer than is permitted, or nothing is', () => {
    const over = told(
      one((findings) => {
        findings.exposure = { ...sampleExposure(), permittedSeconds: 225, measuredSeconds: 480 };
      }),
    );
    expect(about(over, 'NIOSH')).toContain(
      `4${NB}min a day is permitted by NIOSH 98-126. The measuring took longer: 8${NB}min.`,
    );
    const never = told(
      one((findings) => {
        findings.exposure = { ...sampleExposure(), levelDba: 141, permittedSeconds: 0 };
      }),
    );
    expect(about(never, 'NIOSH')).toContain('no stay at all is permitted');
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
    const { html, tables, verdict } = buildReport(sampleInput());
    const words = html.replace(/<style>[\s\S]*?<\/style>/, '');
    expect(words).not.toMatch(/THD|[Cc]aptures?\b|NIOSH|Maximum output|Recordings|bad capture/);
    expect(verdict.join()).not.toMatch(/THD|burst|capture/);
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
