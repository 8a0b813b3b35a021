import { describe, expect, it } from 'vitest';
import { conclude, withConclusions } from '../../../lib/analysis/conclusions/conclude';
import type { Curve } from '../../../lib/model/curve';
import type { Findings, Ladder } from '../../../lib/model/findings';
import { findingsSchema } from '../../../lib/model/schemas';
import {
  BANDS_HZ,
  bandFitOf,
  bandRange,
  capture,
  DRIVES,
  difference,
  distortionOf,
  feature,
  ladderOf,
  limitedBottom,
  nearNoise,
  outputOf,
  rollOff,
  run,
  runs,
} from './session';
import { allText, expectSound, plain, texts, wordsIn } from './wording';

const deep = runs('deep');
const tight = runs('tight');

/** A good session of two settings: nothing speaks against anything. */
function goodSession(): { curves: Curve[]; findings: Findings } {
  const curves = [...deep, ...tight];
  const masksHz = [34.1, 52.3].map((hz) => feature(hz).maskHz);
  const findings: Findings = {
    bandFit: [
      ...deep.map((curve) => bandFitOf(curve, { masksHz })),
      ...tight.map((curve) =>
        bandFitOf(curve, { masksHz, lowHz: 27.1, points: [{ downDb: 6, lowHz: 22.2, highHz: null }] }),
      ),
    ],
    rollOff: [
      rollOff(deep[0]),
      rollOff(tight[0], { f0Hz: 31.26, q: 0.66, order: 2, slopeDbPerOctave: 12, alignment: 'Bessel' }),
    ],
    ladder: [limitedBottom(deep), ladderOf(tight)],
    roomFeatures: [
      feature(34.1),
      feature(52.3),
      feature(43.7, { kind: 'peak' }),
      feature(118, { belongsTo: 'unknown' }),
    ],
    settingDifference: [difference()],
    distortion: [distortionOf(deep), distortionOf(tight)],
    captureQuality: curves.map(({ label, about }) => capture(label, 'good', about)),
  };
  return { curves, findings };
}

describe('conclude', () => {
  const { curves, findings } = goodSession();
  const found = conclude(curves, findings);

  it('tells a good session in three to seven headlines, best first, without doubts', () => {
    expect(texts(found)).toEqual([
      'Within 5 dB, room dips left out: 18.2–104 Hz with ‘deep’, 27.1–104 Hz with ‘tight’.',
      '6 dB down at 15.4 Hz with ‘deep’, at 22.2 Hz with ‘tight’.',
      '‘deep’ limits sharply at the bottom: 14.1–22.4 Hz from −11.7 to −9.9 dB of drive, near 96.0 dB.',
      'Loudest with ‘tight’ at 20, 31.5 and 40 Hz: at least 108.0, 108.0 and 108.0 dB.',
      '‘deep’ is 5.1 dB louder than ‘tight’ at 20 Hz; hinge at 27.4 Hz.',
      'THD stays below 3 % over 16–200 Hz up to 102.0 dB with ‘deep’.',
      '2 dips belong to the room and were left out: 34.1 and 52.3 Hz.',
    ]);
    expect(found.headlines.filter(({ doubt }) => doubt !== undefined)).toEqual([]);
    expect(found.details.filter(({ warning }) => warning)).toEqual([]);
  });

  it('tells the rest in few words, and nothing twice', () => {
    const details = found.details.map(({ text }) => plain(text));
    expect(wordsIn(details.join(' '))).toBeLessThan(350);
    const all = [...texts(found), ...details];
    expect(new Set(all).size).toBe(all.length);
    expect(details.filter((text) => /34\.1|52\.3|27\.4 Hz/.test(text))).toEqual([]);
  });

  it('keeps to the rules of every statement', () => {
    for (const one of [...found.headlines, ...found.details]) expectSound(one);
    for (const { text } of found.headlines) expect(wordsIn(text)).toBeLessThanOrEqual(20);
  });

  it('fits the schema of findings', () => {
    // other findings of the fixture are not under test
    const parsed = findingsSchema.safeParse({ conclusions: found });
    expect(parsed.error?.issues ?? []).toEqual([]);
  });

  it('is kept where it is there already', () => {
    const with7 = withConclusions(curves, findings);
    expect(with7.conclusions).toEqual(found);
    expect(withConclusions([], with7)).toBe(with7);
  });

  it('gives the same from the same, and changes nothing it was given', () => {
    const before = JSON.stringify(findings);
    expect(conclude(curves, findings)).toEqual(found);
    expect(JSON.stringify(findings)).toBe(before);
  });
});

describe('limits', () => {
  const say = (ladder: Ladder, curves = deep): string => allText(conclude(curves, { ladder: [ladder] }));

  it('are not denied where no level of the loudest run can be trusted', () => {
    const ladder = ladderOf(deep, { trusted: () => false });
    expect(conclude(deep, { ladder: [ladder] }).settings[0].extent).toBe('unknown');
    expect(say(ladder)).toContain('Too little was measured to tell where it limits with ‘deep’');
    expect(say(ladder)).not.toMatch(/not driven|follow/i);
  });

  it('are not denied where the loudest run lost what was commanded', () => {
    const ladder = ladderOf(deep, { lossDb: (db) => Math.max(0, db - 12) });
    expect(conclude(deep, { ladder: [ladder] }).settings[0].extent).toBe('unknown');
    expect(say(ladder)).not.toMatch(/not driven/i);
  });

  it('are not denied by a ladder with a warning, or that knows nothing itself', () => {
    const warned = ladderOf(deep, {}, { caveats: [nearNoise('warning', [[10, 200]])] });
    const unknown = ladderOf(deep, {}, { extent: 'unknown' });
    const broken = ladderOf(
      deep,
      {},
      { extent: 'unknown', breaks: [{ between: [deep[3].id, deep[4].id], offDb: 3, what: 'all bands', bandsHz: [] }] },
    );
    for (const ladder of [warned, unknown, broken]) expect(say(ladder)).not.toMatch(/not driven/i);
    expect(say(broken)).toContain('neighbouring runs do not fit');
    expect(say(ladderOf(deep.slice(0, 2), {}, { extent: 'unknown' }))).toContain('it takes three drives');
  });

  it('are denied where trusted levels bear that out', () => {
    expect(say(ladderOf(deep))).toContain('Not driven into its limits with ‘deep’, up to the loudest run (0 dB).');
  });

  it('of the bottom are told with onsets by their drive, ceiling and kind', () => {
    expect(say(limitedBottom(deep))).toContain(
      '‘deep’ limits sharply at the bottom: 14.1–22.4 Hz from −11.7 to −9.9 dB of drive, near 96.0 dB.',
    );
  });

  it('that the loudest run alone shows are told as that', () => {
    const region = { ...limitedBottom(deep).regions[0], onsetDriveDb: 21.4, onsetToDriveDb: 22.2 };
    const text = say(limitedBottom(deep, { regions: [region] }));
    expect(text).toContain('14.1–22.4 Hz from −2.6 to −1.8 dB of drive (last run only).');
  });

  it('of several regions have an onset each', () => {
    const ladder = limitedBottom(deep, {
      extent: 'parts',
      regions: [
        { lowHz: 14.1, highHz: 22.4, onsetDriveDb: 12, onsetToDriveDb: 13, ceilingDb: 96, kind: 'limiter' },
        { lowHz: 89.1, highHz: 224, onsetDriveDb: 18, onsetToDriveDb: 20.5, ceilingDb: 102, kind: 'gradual' },
      ],
    });
    const text = say(ladder);
    expect(text).toContain('‘deep’ limits in parts: 14.1–22.4 Hz from −12 dB, 89.1–224 Hz from −6 dB of drive.');
    expect(text).toContain('89.1–224 Hz gives way gradually from −6 to −3.5 dB of drive, near 102.0 dB');
  });

  it('of more than two regions are told by where they lie together and which begin first, equal ones alike', () => {
    const region = (lowHz: number, highHz: number, onsetDriveDb: number) => ({
      ...{ lowHz, highHz, onsetDriveDb, onsetToDriveDb: onsetDriveDb + 1, ceilingDb: 96, kind: 'limiter' as const },
    });
    const told = (...regions: ReturnType<typeof region>[]) => say(limitedBottom(deep, { extent: 'parts', regions }));
    const [low, middle] = [region(11.2, 14.1, 12), region(28.2, 35.5, 18)];
    expect(told(low, middle, region(89.1, 224, 15))).toContain(
      '‘deep’ limits in parts (11.2–224 Hz), first at 11.2–14.1 Hz from −12 dB of drive.',
    );
    expect(told(low, middle, region(89.1, 224, 12.01))).toContain('first at 11.2–14.1 Hz and 89.1–224 Hz from −12 dB');
    expect(told(low, region(28.2, 35.5, 12), region(89.1, 224, 12))).toContain('(11.2–224 Hz) from −12 dB of drive.');
  });

  it('leave others following the drive only where trusted levels show it', () => {
    expect(say(limitedBottom(deep))).toContain('The other 10 bands follow the drive to the last run');
    const held = (hz: number): boolean => hz < 22;
    const hidden = { ...limitedBottom(deep), trusted: DRIVES.map(() => BANDS_HZ.map(held)) };
    expect(say(hidden)).toContain('Whether the other bands follow the drive with ‘deep’ cannot be told.');
    expect(say(hidden)).not.toContain('to the last run');
    const losing = limitedBottom(deep);
    losing.compressionDb[8] = BANDS_HZ.map((hz) => (held(hz) ? 12 : hz < 80 ? 2.14 : 0));
    expect(say(losing)).toContain('lose up to 2.1 dB at the loudest run');
    expect(say(losing)).not.toMatch(/follow/);
  });

  it('are judged up to the last run that can be trusted, and that is the run named', () => {
    const ladder = ladderOf(deep, { trusted: (db) => db <= 18 });
    expect(say(ladder)).toContain('up to the loudest run (−6 dB)');
  });
});

describe('steps of drive', () => {
  it('are not said to arrive where none was measured', () => {
    const step = { commandedDb: 3, measuredDb: null, uncertaintyDb: null, differs: null };
    expect(allText(conclude(deep, { ladder: [ladderOf(deep, {}, { step })] }))).not.toMatch(/steps/i);
    const known = allText(conclude(deep, { ladder: [ladderOf(deep)] }));
    expect(known).toContain('arrive as commanded: 3.00 ± 0.02 dB for 3 dB.');
  });

  it('that differ are told with the one that was used', () => {
    const step = { commandedDb: 3, measuredDb: 2.912, uncertaintyDb: 0.021, differs: true };
    const text = allText(conclude(deep, { ladder: [ladderOf(deep, {}, { step })] }));
    expect(text).toContain('measure 2.91 ± 0.02 dB instead of 3 dB; compression is counted with the commanded step.');
  });
});

describe('the roll-off', () => {
  it('has a corner where the curve keeps to it', () => {
    const text = allText(conclude(deep, { rollOff: [rollOff(deep[0])] }));
    expect(text).toContain('falls by 24 dB per octave, like a 4th-order high-pass at 18.9 Hz (Butterworth).');
  });

  it.each([{ rmsErrorDb: 1.6 }, { f0Hz: null as unknown as number }])('is only a slope otherwise (%o)', (more) => {
    const text = allText(conclude(deep, { rollOff: [rollOff(deep[0], more)] }));
    expect(text).toContain('falls by about 24 dB per octave');
    expect(text).not.toMatch(/18\.9|Butterworth|order/);
  });
});

describe('bursts', () => {
  it('are levels at the microphone, and not at 1 m, where no distance is known', () => {
    const text = allText(conclude([], { maximumOutput: [outputOf('deep')] }));
    expect(text).toContain('98.2 dB peak');
    expect(text).toMatch(/at least 110\.4 at 63 Hz, at the microphone/);
    expect(text).not.toMatch(/1 m\b/);
  });

  it('that were converted say from where to where in the same sentence', () => {
    const found = conclude([], { maximumOutput: [outputOf('deep', { measuredAtM: 2 })] });
    for (const { text } of found.headlines.filter(({ code }) => code === 'loudest-burst')) {
      expect(plain(text)).toContain('converted from 2 to 1 m');
    }
    expect(allText(found)).toMatch(/at least 110\.4 at 63 Hz, converted from 2 to 1 m/);
  });
});

describe('sessions that tell little', () => {
  it('say that nothing was analysed', () => {
    expect(texts(conclude([], {}))).toEqual(['No analysis has been made: this is an empty session.']);
    expect(texts(conclude(deep, {}))).toEqual(['No analysis has been made: this is 9 curves as measured.']);
  });

  it('say that it cannot be told where the unit limits', () => {
    expect(texts(conclude([deep[0]], { bandFit: [bandFitOf(deep[0])] }))).toEqual([
      'Within 5 dB: 18.2–104 Hz with ‘deep’.',
      '‘deep’ is 6 dB down at 15.4 Hz and 10 dB down at 13.2 Hz.',
      'Too little was measured to tell where it limits.',
    ]);
  });

  it('speak of one unnamed run without names', () => {
    const one = run(undefined, undefined);
    const found = conclude([one], { bandFit: [bandFitOf(one)], ladder: [] });
    expect(found.settings[0].shown).toMatchObject({ curve: one.id, driveDb: null, why: 'only run' });
    expect(texts(found)[0]).toBe('It stays within 5 dB over 18.2–104 Hz.');
    expect(allText(found)).not.toMatch(/‘/);
  });

  it('with distortion alone', () => {
    const found = conclude([], { distortion: [distortionOf(deep)] });
    expect(texts(found)[0]).toContain('THD stays below 3 %');
    expect(found.settings[0].passes[0]).toMatchObject({ percent: 3, bandHz: 16 });
    const noise = conclude([], {
      distortion: [distortionOf(deep, { trusted: DRIVES.map(() => BANDS_HZ.map(() => false)), passes: [] })],
    });
    expect(allText(noise)).toContain('cannot be told: the harmonics do not stand clear of the noise');
  });

  it('where no noise was measured, say so', () => {
    const text = allText(
      conclude(deep, { ladder: [ladderOf(deep, { trusted: () => false }, { snrFrom: 'unknown', extent: 'unknown' })] }),
    );
    expect(text).toContain(': the noise is not known');
  });

  it('claim no sound pressure where levels are relative', () => {
    const found = conclude(deep, {
      ladder: [limitedBottom(deep, { scale: 'relative' })],
      distortion: [distortionOf(deep, { scale: 'relative' })],
    });
    const text = allText(found);
    expect(text).toMatch(/Loudest .* relative dB\./);
    expect(text).toMatch(/THD stays below 3 % .* relative dB with/);
    expect(text).not.toMatch(/near 96/);
  });
});

describe('warnings', () => {
  it('come first: bad captures, then runs that were measured in different ways', () => {
    const captureQuality = DRIVES.map((driveDb, k) =>
      capture(`take ${k}`, k === 4 ? 'bad' : k === 1 ? 'doubtful' : 'good', {
        device: 'Sample unit',
        setting: 'deep',
        driveDb,
      }),
    );
    const mixed = [...deep.slice(0, 8), run('deep', 0, { procedure: 'another' })];
    const found = conclude(mixed, { captureQuality, ladder: [ladderOf(deep)] });
    expect(texts(found).slice(0, 2)).toEqual([
      '1 of 9 captures is bad: do not use what was read from it.',
      'The runs followed 2 different procedures and must not be compared with each other.',
    ]);
    expect(found.captures).toEqual({ judged: 9, doubtful: ['take 1'], bad: ['take 4'] });
    expect(allText(found)).toContain('7 of 9 captures are good; take with care: ‘take 1’.');
  });

  it('leave out findings that are not to be used', () => {
    const bad = { caveats: [nearNoise('warning', [[10, 200]])] };
    const found = conclude([deep[0]], { bandFit: [bandFitOf(deep[0], bad)], captureQuality: [capture('a', 'bad')] });
    expect(allText(found)).not.toMatch(/18\.2|15\.4/);
    expect(texts(found)).toEqual([
      'The capture is bad: do not use what was read from it.',
      'Nothing that was measured here can be used as it is.',
    ]);
  });

  it('and doubts touch only what they speak of; remarks nothing', () => {
    const withNoise = (severity: 'remark' | 'doubt', range: [number, number]) =>
      conclude(deep, { ladder: [limitedBottom(deep, { caveats: [nearNoise(severity, [range])] })] });
    const doubts = (found: ReturnType<typeof conclude>): string[] =>
      found.headlines.flatMap(({ code, doubt }) => (doubt ? [code] : []));
    expect(doubts(withNoise('remark', [10, 200]))).toEqual([]);
    expect(doubts(withNoise('doubt', [100, 200]))).toEqual([]);
    expect(doubts(withNoise('doubt', bandRange(40, 40)))).toEqual(['loudest']);
    expect(doubts(withNoise('doubt', bandRange(16, 20)))).toEqual(['limits-bottom', 'loudest', 'shape-loses-bottom']);
  });
});

describe('switches', () => {
  const say = (more: Parameters<typeof difference>[0]): string =>
    texts(conclude([], { settingDifference: [difference(more)] }))[0];

  it('are told by their kind', () => {
    expect(say({})).toBe('‘deep’ is 5.1 dB louder than ‘tight’ at 20 Hz; hinge at 27.4 Hz.');
    expect(say({ kind: 'level', levelDb: -3.04 })).toBe('‘deep’ is 3.0 dB quieter than ‘tight’ at all frequencies.');
    expect(say({ kind: 'low-pass' })).toBe('‘deep’ and ‘tight’ differ by a low-pass filter.');
    expect(say({ kind: 'other' })).toBe('‘deep’ is 5.1 dB louder than ‘tight’ at 20 Hz, but not as a shelf.');
    expect(say({ kind: 'none' })).toBe('No difference was found between ‘deep’ and ‘tight’.');
    expect(say({ kind: 'unknown' })).toBe('Too little can be trusted to tell how ‘deep’ and ‘tight’ differ.');
  });

  it('are not told by values that cannot be trusted', () => {
    const at = [{ frequencyHz: 20, differenceDb: 5.13, trusted: false }];
    expect(say({ at })).toBe('‘deep’ and ‘tight’ differ by a shelf with its hinge at 27.4 Hz.');
    expect(allText(conclude([], { settingDifference: [difference({ at })] }))).not.toContain('5.1');
  });
});

describe('the room', () => {
  it('is blamed only for what belongs to it', () => {
    const roomFeatures = [
      feature(34.1),
      feature(60, { belongsTo: 'unit' }),
      feature(118, { belongsTo: 'unknown', cause: { type: 'mode' } }),
    ];
    const found = conclude([], { roomFeatures });
    expect(texts(found)).toContain('1 dip belongs to the room, not to the unit: 34.1 Hz.');
    expect(allText(found)).toContain("The unit's own: a dip at 60 Hz.");
    expect(allText(found)).toContain('Of unknown origin, room or unit: a dip at 118 Hz.');
  });

  it('is not said to be left out where masks are something else', () => {
    const found = conclude([deep[0]], {
      bandFit: [bandFitOf(deep[0], { masksHz: [[60, 64]] })],
      roomFeatures: [feature(34.1)],
    });
    expect(texts(found)[0]).toContain('some dips left out');
    expect(texts(found).join()).not.toContain('room and was left out');
  });

  it('with many dips has the deepest named and the others counted', () => {
    const roomFeatures = Array.from({ length: 12 }, (_, k) => feature(30 + 10 * k, { prominenceDb: 3 + (k % 6) }));
    const [text] = texts(conclude([], { roomFeatures }));
    expect(text).toMatch(/^12 dips belong to the room, not to the unit: .* and 7 more\.$/);
  });
});

describe('names', () => {
  it.each([
    'all filters off, phase turned by 180 degrees',
    'a\u0000b\n c',
    '\u05d0\u05d1 \u05d2',
    '<b>“x” & ‘y’</b>',
    'x'.repeat(200),
    '5 dB',
  ])('of any kind keep headlines short and whole: %j', (setting) => {
    const curves = [...runs(setting), ...runs(`${setting} too`)];
    const ladder = [limitedBottom(runs(setting)), ladderOf(runs(`${setting} too`))];
    const found = conclude(curves, { ladder, bandFit: curves.map((curve) => bandFitOf(curve)) });
    for (const one of found.headlines) {
      expect(wordsIn(one.text), one.text).toBeLessThanOrEqual(20);
      expect(one.text).not.toMatch(/undefined|NaN| {2}/);
    }
  });

  it('that are cut stay apart from each other', () => {
    const settings = ['bass lift on, phase 0', 'bass lift on, phase 180', 'bass lift off, phase 180'];
    const curves = settings.map((setting) => run(setting, 0));
    const found = conclude(curves, { bandFit: curves.map((curve) => bandFitOf(curve)) });
    const names = [1, 2, 3].map((k) => found.headlines[0].values[`name${k}`]).filter((one) => one !== undefined);
    expect(new Set(names).size).toBe(names.length);
  });

  it('of several units stand beside their settings', () => {
    const other = run('deep', 0, { device: 'Other unit' });
    const found = conclude([deep[0], other], { bandFit: [bandFitOf(deep[0]), bandFitOf(other)] });
    expect(found.settings).toHaveLength(2);
    expect(JSON.stringify(found.headlines[0].values)).toContain('Other');
  });
});
