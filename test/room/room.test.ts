import { describe, expect, it } from 'vitest';
import { BassloomError } from '../../lib/model/errors';
import { checkPlacedRoom, checkRoom, type Room } from '../../lib/room/room';
import { speedOfSound } from '../../lib/room/speedOfSound';

const room: Room = { lengthM: 6, widthM: 4.5, heightM: 2.5, source: [0, 0, 0], microphone: [6, 4.5, 2.5] };

function refusal(what: () => unknown): BassloomError {
  try {
    what();
  } catch (error) {
    return error as BassloomError;
  }
  throw new Error('was not refused');
}

describe('a room', () => {
  it('is taken with source and microphone on its very walls', () => {
    expect(checkPlacedRoom(room)).toMatchObject({ sizeM: [6, 4.5, 2.5], volumeM3: 67.5, decayS: 0.5 });
  });

  it('turns a reverberation time into the decay constant of the amplitude', () => {
    // after T60 the amplitude is down by 60 dB, by definition
    const { damping } = checkRoom({ ...room, decayS: 0.4 });
    expect(20 * Math.log10(Math.exp(-damping * 0.4))).toBeCloseTo(-60, 9);
  });

  it.each([
    [{ ...room, lengthM: 0 }, 'room-dimension', 'lengthM'],
    [{ ...room, widthM: Number.NaN }, 'room-dimension', 'widthM'],
    [{ ...room, heightM: undefined }, 'room-dimension', 'heightM'],
    [{ ...room, heightM: '2.5' }, 'room-dimension', 'heightM'],
    [{ ...room, decayS: 0 }, 'room-decay', 'decayS'],
    [{ ...room, decayS: Number.POSITIVE_INFINITY }, 'room-decay', 'decayS'],
    [{ ...room, temperatureC: -300 }, 'room-temperature', 'temperatureC'],
    [{ ...room, source: [0, 1] }, 'position-malformed', 'source'],
    [{ ...room, source: [0, 1, Number.NaN] }, 'position-malformed', 'source'],
    [{ ...room, source: [-0.1, 1, 1] }, 'position-outside', 'source'],
    [{ ...room, microphone: [1, 4.6, 1] }, 'position-outside', 'microphone'],
    [{ ...room, source: [1, 1, 1], microphone: [1, 1.05, 1] }, 'positions-coincide', 'microphone'],
    [{ ...room, source: undefined }, 'position-missing', 'source'],
  ])('is refused where it is malformed: %j', (bad, code, field) => {
    const error = refusal(() => checkPlacedRoom(bad as Room));
    expect(error).toBeInstanceOf(BassloomError);
    expect(error).toMatchObject({ code, field });
  });
});

describe('the speed of sound', () => {
  it('is that of the formula at 0 and 20 degrees Celsius', () => {
    expect(speedOfSound(0)).toBe(331.3);
    // 343.2 m/s at 20 degrees is the handbook value (from memory)
    expect(speedOfSound()).toBeCloseTo(343.2, 1);
  });
});
