import { describe, expect, it } from 'vitest';
import { conclude } from '../../lib/analysis/conclusions/conclude';
import type { Findings } from '../../lib/model/findings';
import { buildReport } from '../../lib/report/buildReport';
import { describe as inWords } from '../../lib/words/describe';
import { bandFitOf, difference, feature, ladderOf, limitedBottom, runs } from '../analysis/conclusions/session';

const [deep, tight] = [runs('deep'), runs('tight')];
const measurements = [...deep, ...tight];
const findings: Findings = {
  bandFit: measurements.map((curve) => bandFitOf(curve)),
  ladder: [limitedBottom(deep), ladderOf(tight)],
  roomFeatures: [feature(34.1)],
  settingDifference: [difference()],
};
const conclusions = conclude(measurements, findings);

describe('the verdict of a report', () => {
  it('stands in findings.json as it was concluded', () => {
    const { findingsJson } = buildReport({ topic: 'Sample unit', measurements, findings });
    expect(JSON.parse(findingsJson).conclusions).toEqual(JSON.parse(JSON.stringify(conclusions)));
  });

  it('is taken from the findings where they have one', () => {
    const told = { ...conclusions, headlines: conclusions.headlines.slice(0, 1) };
    const { findingsJson } = buildReport({
      topic: 'Sample unit',
      measurements,
      findings: { ...findings, conclusions: told },
    });
    expect(JSON.parse(findingsJson).conclusions.headlines).toHaveLength(1);
  });

  it('can be said again from code and values alone', () => {
    for (const { code, values, text } of [...conclusions.headlines, ...conclusions.details]) {
      expect(inWords({ code, values }, 'en-GB')).toBe(text);
    }
  });
});
