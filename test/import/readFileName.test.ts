import { describe, expect, it } from 'vitest';
import { isNoiseName } from '../../lib/import/isNoiseName';
import { readFileName } from '../../lib/import/readFileName';

const about = (name: string, pattern: string, stepDb?: number) => readFileName(name, pattern, stepDb).about;

describe('what a file name says', () => {
  it('is read by fields between literal text', () => {
    expect(about('Unit A_flat low_step-04.txt', '{device}_{setting}_step-{step}')).toEqual({
      device: 'Unit A',
      setting: 'flat low',
      driveDb: 12,
    });
  });

  it('takes step 0 for 0 dB and step 3 for three steps', () => {
    expect(about('s0', 's{step}')).toEqual({ driveDb: 0 });
    expect(about('s3', 's{step}')).toEqual({ driveDb: 9 });
    expect(about('s3', 's{step}', 1.5)).toEqual({ driveDb: 4.5 });
  });

  it.each([
    ['-12', -12],
    ['+3', 3],
    ['4.5', 4.5],
    ['4,5', 4.5],
    ['\u22126', -6],
    ['007', 7],
  ])('reads the number %s', (text, driveDb) => {
    expect(about(`unit_${text}.txt`, '{device}_{driveDb}')).toEqual({ device: 'unit', driveDb });
    expect(about(`unit_${text}`, '{device}_{driveDb}')).toEqual({ device: 'unit', driveDb });
  });

  it.each(['m12', '12m', '1e3', 'loud', '1.2.3'])('makes a note of %j where a number is wanted', (text) => {
    const { about: found, notes } = readFileName(`unit_${text}_x.txt`, '{device}_{driveDb}_x');
    expect(found.driveDb).toBeUndefined();
    expect(notes).toMatchObject([
      { code: 'name-without-number', severity: 'doubt', values: { text, field: 'driveDb' } },
    ]);
  });

  it('does not match where a field is empty', () => {
    const { matches, notes } = readFileName('unit__x.txt', '{device}_{driveDb}_x');
    expect(matches).toBe(false);
    expect(notes).toMatchObject([{ code: 'name-off-pattern', severity: 'remark' }]);
  });

  it('compares literal text in any case, field values as they are', () => {
    expect(about('UNIT-b STEP_2.TXT', '{device} step_{step}')).toEqual({ device: 'UNIT-b', driveDb: 6 });
  });

  it('ends a field at the first literal that follows', () => {
    expect(about('a_b_c_d', '{device}_{setting}')).toEqual({ device: 'a', setting: 'b_c_d' });
  });

  it('lets values hold the literal where only so a number field finds its number', () => {
    expect(about('my-sub-a-3.txt', '{device}-{step}')).toEqual({ device: 'my-sub-a', driveDb: 9 });
    expect(about('my-sub--12.txt', '{device}-{driveDb}')).toEqual({ device: 'my-sub', driveDb: -12 });
    expect(about('sub--12', '{device}-{driveDb}')).toEqual({ device: 'sub', driveDb: -12 });
  });

  it('matches the whole name, not a part of it', () => {
    expect(readFileName('unit_1_more', '{device}_1').matches).toBe(false);
    expect(readFileName('x unit', 'unit').matches).toBe(false);
    expect(readFileName('a_b', '{device}_b_b').matches).toBe(false);
    expect(readFileName('_b', '{device}_{setting}')).toMatchObject({ matches: false, about: {} });
  });

  it('reads the tail of a path', () => {
    const pattern = '{device}/{setting}/{step}';
    const expected = { device: 'Unit A', setting: 'flat', driveDb: 6 };
    expect(about('/data/2024/Unit A/flat/2.csv', pattern)).toEqual(expected);
    expect(about('Unit A\\flat\\2.csv', pattern)).toEqual(expected);
    expect(readFileName('flat/2.csv', pattern).matches).toBe(false);
    expect(about('Unit A/flat/2.csv', '{step}')).toEqual({ driveDb: 6 });
  });

  it('passes over anything where told', () => {
    expect(about('2024 run_Unit A_x.y_3.txt', '{*}_{device}_{*}_{step}')).toEqual({ device: 'Unit A', driveDb: 9 });
    expect(about('Unit A.txt', '{*}unit {device}{*}'.replace('{*}u', 'u').replace('{*}', ''))).toEqual({ device: 'A' });
    expect(readFileName('_unit', '{*}_{device}').about).toEqual({ device: 'unit' });
  });

  it('ignores extensions, of the pattern too', () => {
    expect(about('unit_2.frq', '{device}_{step}.txt')).toEqual({ device: 'unit', driveDb: 6 });
  });

  it.each([
    ['2024-03-05', '2024-03-05'],
    ['20240305', '2024-03-05'],
    ['2024-03-05T10-15', '2024-03-05T10:15:00'],
    ['20240305_101530', '2024-03-05T10:15:30'],
    ['20240305T101530Z', '2024-03-05T10:15:30Z'],
  ])('turns the date %s into ISO 8601', (text, takenAt) => {
    expect(about(`unit ${text}.txt`, 'unit {takenAt}')).toEqual({ takenAt });
  });

  it.each(['2024-02-30', '2024-13-01', 'yesterday', '2024-03-05T25-00'])('makes a note of the date %s', (text) => {
    expect(readFileName(`unit ${text}`, 'unit {takenAt}').notes).toMatchObject([{ code: 'name-without-date' }]);
  });

  it('reads distance, position and procedure', () => {
    expect(about('near corner, 1,5m, sweep-2', '{position}, {distanceM}m, {procedure}')).toEqual({
      position: 'near corner',
      distanceM: 1.5,
      procedure: 'sweep-2',
    });
    expect(readFileName('0m', '{distanceM}m').notes).toHaveLength(1);
  });

  it.each([
    '{unit}',
    '{device}_{device}',
    '{device}{setting}',
    '{*}{device}',
    '{device',
    'device}',
    '',
    '{step} {driveDb}',
    '{__proto__}',
  ])('refuses the pattern %j', (pattern) => {
    expect(() => readFileName('x', pattern)).toThrow(
      expect.objectContaining({ code: 'bad-pattern', field: 'namePattern' }),
    );
  });

  it('refuses a step that is no number', () => {
    expect(() => readFileName('x', '{step}', Number.NaN)).toThrow(expect.objectContaining({ code: 'bad-option' }));
  });
});

describe('a noise run', () => {
  it.each(['noise.txt', 'Noise 2.csv', 'a/b/NOISE', 'a\\noise_floor.txt'])('is %s', (name) => {
    expect(isNoiseName(name)).toBe(true);
  });

  it.each(['noise/unit.txt', '', 'nois.txt'])('is not %j', (name) => {
    expect(isNoiseName(name)).toBe(false);
  });
});
