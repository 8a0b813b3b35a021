import { describe, expect, it } from 'vitest';
import { referenceCurves } from '../../lib/analysis/reference/referenceCurves';
import type { Curve } from '../../lib/model/curve';
import type { Findings } from '../../lib/model/findings';
import { nominalHz } from '../../lib/model/octaves';
import { buildReport } from '../../lib/report/buildReport';
import { sampleInput } from './sampleSession';

const NB = '\u00a0';

function verdictWith(change: (findings: Findings) => void, options = {}): string[] {
  const input = sampleInput({ settings: ['deep'], ...options });
  change(input.findings);
  return buildReport(input).verdict;
}

const about = (verdict: string[], words: string): string => {
  const found = verdict.filter((sentence) => sentence.includes(words));
  expect(found, `one sentence with '${words}' in:\n${verdict.join('\n')}`).toHaveLength(1);
  return found[0];
};

describe('the verdict', () => {
  const input = sampleInput();
  const { verdict } = buildReport(input);
  const [ladder] = input.findings.ladder!;

  it('quotes the run that units are judged by, with and without the dips', () => {
    expect(referenceCurves(input.measurements as Curve[], input.findings.ladder)[0].about.driveDb).toBe(-15);
    expect(verdict[0]).toBe(
      `With ‘deep’, the run at +9${NB}dB stays within 5${NB}dB over 18.2–104${NB}Hz (2.52 octaves) when the 4 stretches that belong to the room are left out, and over 36.2–104${NB}Hz (1.53 octaves) with them counted.`,
    );
  });

  it('quotes the quietest run that nothing speaks against where there is no ladder', () => {
    const verdict = verdictWith((findings) => {
      delete findings.ladder;
    });
    expect(verdict[0]).toContain(`the run at +3${NB}dB stays within`);
  });

  it('tells the depth from the points of that fit', () => {
    expect(about(verdict, 'With ‘deep’, it is 3')).toBe(
      `With ‘deep’, it is 3${NB}dB down at 17.6${NB}Hz, 6${NB}dB down at 15.4${NB}Hz and 10${NB}dB down at 13.2${NB}Hz, counted from its reference level of 83.2${NB}dB.`,
    );
  });

  it('tells the roll-off with its order, corner, Q where there is one, and error', () => {
    expect(about(verdict, 'With ‘deep’, it falls')).toContain(
      `24${NB}dB per octave at the bottom, like a 4th-order high-pass with f0 18.9${NB}Hz (Butterworth); the curve keeps to that within 0.4${NB}dB rms`,
    );
    expect(about(verdict, 'With ‘tight’, it falls')).toContain(
      `a 2nd-order high-pass with f0 31.3${NB}Hz and Q 0.66 (Bessel)`,
    );
  });

  it('tells what the switch does and marks what cannot be trusted', () => {
    expect(about(verdict, 'against')).toBe(
      `‘deep’ against ‘tight’ is 5.1${NB}dB louder at 20${NB}Hz and 7.1${NB}dB louder at 10${NB}Hz (untrusted); half of the full +8.0${NB}dB is reached at its hinge, 27.4${NB}Hz, with a slope of 5.6${NB}dB per octave below it.`,
    );
  });

  it('tells the earliest compression among all bands, as the ladder has it', () => {
    const onset = ladder.onset[0];
    const drives = onset.driveDb.filter((drive) => drive !== null);
    const band = onset.driveDb.indexOf(Math.min(...drives));
    expect(about(verdict, `With ‘deep’, 1${NB}`)).toContain(
      `1${NB}dB of drive is lost first in the ${nominalHz(ladder.bandsHz[band])}${NB}Hz band, ${drives[0].toFixed(1)}${NB}dB above the quietest run (at ${onset.outputDb[band]!.toFixed(1)}${NB}dB)`,
    );
  });

  it('tells a limiter that guards the bottom from a unit that runs out everywhere', () => {
    expect(about(verdict, 'With ‘deep’, 11.2')).toMatch(/held sharply.*a limiter guards the bottom/);
    const everywhere = verdictWith(({ ladder: [one] = [] }) => {
      one.regions = [{ ...one.regions[0], lowHz: 8.9, highHz: 224, kind: 'gradual' }];
      one.onset[0].driveDb = one.bandsHz.map(() => 12);
    });
    expect(about(everywhere, 'gives way gradually')).toMatch(/runs out nearly everywhere, not only at the bottom\.$/);
    const first = verdictWith(({ ladder: [one] = [] }) => {
      one.regions = [{ ...one.regions[0], lowHz: 8.9, highHz: 224 }];
      one.onset[0].driveDb = one.bandsHz.map((hz) => (hz < 20 ? 8 : 12));
    });
    expect(about(first, '8.9–224')).toMatch(/runs out nearly everywhere, at the bottom first\.$/);
    const middle = verdictWith(({ ladder: [one] = [] }) => {
      one.regions = [{ ...one.regions[0], lowHz: 35, highHz: 71 }];
    });
    expect(about(middle, '35–71')).toMatch(/the others follow the drive/);
    const early = verdictWith(({ ladder: [one] = [] }) => {
      one.regions = [one.regions[0], { lowHz: 35, highHz: 224, onsetDriveDb: 18.02, ceilingDb: 104, kind: 'gradual' }];
    });
    expect(about(early, '35–224')).toContain(`a limiter sets in 5.7${NB}dB of drive before 35–224${NB}Hz gives way`);
    const nowhere = verdictWith(({ ladder: [one] = [] }) => {
      one.regions = [];
    });
    expect(about(nowhere, 'not driven into its limits')).toContain(`+24${NB}dB`);
  });

  it('quotes ceilings at six bands and says at least where no limit was reached', () => {
    const sentence = about(verdict, 'With ‘deep’, it reached');
    for (const hz of [20, 25, 31.5, 40, 50, 63]) {
      const band = ladder.bandsHz.findIndex((centre) => nominalHz(centre) === hz);
      const atLeast = ladder.ceiling.reached[band] ? '' : 'at least ';
      expect(sentence).toContain(`${atLeast}${ladder.ceiling.levelDb[band]!.toFixed(1)}${NB}dB at ${hz}${NB}Hz`);
    }
    expect(sentence).not.toContain(`at least ${ladder.ceiling.levelDb[3]!.toFixed(1)}`);
  });

  it('says whether the curve bends, keeps its shape or gets flatter as it plays louder', () => {
    const widths = (octaves: (k: number) => number) => (findings: Findings) => {
      findings.bandFit?.forEach((one, k) => {
        one.octaves = octaves(k);
      });
    };
    expect(about(verdict, 'With ‘deep’, the curve')).toMatch(/bends as it plays louder/);
    expect(verdictWith(widths((k) => 2 + 0.1 * k)).join()).toMatch(/gets flatter as it plays louder/);
    expect(verdictWith(widths(() => 2)).join()).toMatch(/keeps its shape as it plays louder/);
  });

  it('keeps dips of the room apart from those that nothing explains', () => {
    expect(about(verdict, 'belong to the room, not')).toBe(
      `Dips at 34.1, 52.3 and 71.4${NB}Hz and a peak at 43.7${NB}Hz belong to the room, not to the unit; the prediction misses them by at most 0.5${NB}Hz.`,
    );
    expect(about(verdict, 'unexplained')).toBe(
      `A dip at 118${NB}Hz is unexplained: room or unit, these measurements cannot tell.`,
    );
    const weak = verdictWith(({ roomFeatures }) => {
      roomFeatures![0].confidence = 0.3;
    });
    expect(about(weak, 'may belong')).toContain(`A dip at 34.1${NB}Hz`);
  });

  it('tells a step that differs, and what compression was counted with', () => {
    expect(about(verdict, 'With ‘deep’, a drive step')).toBe(
      `With ‘deep’, a drive step really is 2.91 ± 0.02${NB}dB where 3${NB}dB was commanded; compression was counted with the commanded step and is overstated by 0.09${NB}dB a step.`,
    );
    expect(about(verdict, 'With ‘tight’, drive steps')).toContain(
      `arrive as commanded: 3.00 ± 0.02${NB}dB for 3${NB}dB`,
    );
  });

  it('counts what can be trusted and says what that rests on', () => {
    const cells = ladder.trusted.flat();
    expect(about(verdict, `With ‘deep’, ${cells.filter(Boolean).length}`)).toContain(
      `${cells.filter(Boolean).length} of ${cells.length} band levels can be trusted; the others lie between 12.5 and 25${NB}Hz`,
    );
    const guessed = verdictWith(({ ladder: [one] = [] }) => {
      one.snrFrom = 'scatter between rungs';
    });
    expect(guessed.join()).toContain('The noise was not measured; it is estimated from the scatter between runs.');
  });

  it('carries the caveat where the only fit there is cannot be trusted', () => {
    const verdict = verdictWith(({ bandFit }) => {
      bandFit?.splice(1);
    });
    expect(verdict[0]).toContain('To be taken with care: Below 16 Hz the level lies less than 10 dB above the noise.');
  });

  it('writes caveats with true minus signs, also beside ranges and dates', () => {
    const verdict = verdictWith(({ rollOff }) => {
      rollOff![0].caveats = ['The drives differ by -3.0 dB (-2 steps) since 2031-05-04'];
    });
    expect(verdict.join()).toContain('The drives differ by \u22123.0 dB (\u22122 steps) since 2031-05-04.');
  });

  it('warns first of all where runs followed different procedures', () => {
    const input = sampleInput();
    input.measurements[3] = { ...input.measurements[3], about: { ...input.measurements[3].about, procedure: 'other' } };
    const report = buildReport(input);
    expect(report.verdict[0]).toBe(
      'The runs followed 2 different procedures (‘fixed spot’ and ‘other’): they must not be compared with each other.',
    );
    expect(report.html).toContain('<strong>Mixed procedures.</strong>');
  });

  it('says nothing of what was not analysed', () => {
    const bare = verdictWith((findings) => {
      for (const key of Object.keys(findings)) delete findings[key as keyof Findings];
    });
    expect(bare).toEqual(['No analysis has been made; this report holds 9 curves as measured.']);
    const onlyFits = verdictWith((findings) => {
      for (const key of Object.keys(findings)) if (key !== 'bandFit') delete findings[key as keyof Findings];
    });
    expect(onlyFits.join()).not.toMatch(/ladder|limiter|room, not|noise/);
  });
});
