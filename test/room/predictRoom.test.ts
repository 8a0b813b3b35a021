import { expect, test } from 'vitest';
import { predictRoom, predictTransfer, type Room, roomModes } from '../../lib';

const room: Room = {
  ...{ lengthM: 6, widthM: 4.5, heightM: 2.5, decayS: 0.4 },
  ...{ source: [0.5, 1, 0.3], microphone: [4, 2.5, 1.1] },
};

test('a prediction is the transfer on 48 points an octave, and names its room', () => {
  const found = predictRoom(room, { name: 'big', rangeHz: [20, 160] });
  expect(found.room).toBe('big');
  expect(found.frequencyHz).toHaveLength(3 * 48 + 1);
  expect(found.frequencyHz[48]).toBeCloseTo(40, 9);
  expect(found.levelDb).toEqual(predictTransfer(room, found.frequencyHz).levelDb);
});

test('the Schroeder frequency needs the reverberation time, modes are counted up to it', () => {
  const found = predictRoom(room);
  // 2000 sqrt(T / V), Schroeder and Kuttruff 1962.
  expect(found.schroederHz).toBeCloseTo(2000 * Math.sqrt(0.4 / 67.5), 9);
  const counted = roomModes(room, { toHz: found.schroederHz as number }).length;
  expect(Math.abs((found.modesBelowSchroeder as number) - counted) / counted).toBeLessThan(0.1);
  const { decayS, ...dry } = room;
  expect(predictRoom(dry)).toMatchObject({ schroederHz: null, modesBelowSchroeder: null, room: '6 x 4.5 x 2.5 m' });
});
