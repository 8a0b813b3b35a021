import { describe, expect, it } from 'vitest';
import { predictTransfer } from '../../lib/room/predictTransfer';
import type { Room } from '../../lib/room/room';
import { roomModes } from '../../lib/room/roomModes';
import { speedOfSound } from '../../lib/room/speedOfSound';
import reference from '../reference/roomTransfer.json';

const room: Room = {
  lengthM: 6,
  widthM: 4.5,
  heightM: 2.5,
  decayS: 0.5,
  source: [0.4, 0.6, 0.3],
  microphone: [3.7, 2.6, 1.1],
};

const turn = (deg: number) => deg - 360 * Math.round(deg / 360);

describe('the transfer of a room', () => {
  // test/reference/roomTransfer.py: image sources, and the plain triple modal sum
  it.each(reference.rooms)('is that of the image sources and of the triple modal sum: $room', (row) => {
    const { levelDb, phaseDeg } = predictTransfer(row.room as Room, reference.frequencyHz);
    for (const expected of [row.images, row.modes]) {
      levelDb.forEach((level, i) => {
        expect(Math.abs(level - expected.levelDb[i])).toBeLessThan(0.001);
        expect(Math.abs(turn(phaseDeg[i] - expected.phaseDeg[i]))).toBeLessThan(0.01);
      });
    }
  });

  it('is the same image sum when reckoned here', () => {
    const dead: Room = { ...room, decayS: 0.12 };
    const hz = [22, 41, 67, 118, 190];
    const { levelDb } = predictTransfer(dead, hz);
    hz.forEach((f, i) => {
      expect(Math.abs(levelDb[i] - imageSumDb(dead, f))).toBeLessThan(0.001);
    });
  });

  it('is the same to and fro', () => {
    const hz = [10, 33, 90, 250];
    const back = predictTransfer({ ...room, source: room.microphone, microphone: room.source }, hz);
    predictTransfer(room, hz).levelDb.forEach((level, i) => {
      expect(level).toBeCloseTo(back.levelDb[i], 5);
    });
  });

  it('does not depend on which axis is called the length', () => {
    const [a, b] = [room.source!, room.microphone!];
    const turned: Room = {
      lengthM: room.heightM,
      widthM: room.lengthM,
      heightM: room.widthM,
      decayS: room.decayS,
      source: [a[2], a[0], a[1]],
      microphone: [b[2], b[0], b[1]],
    };
    const hz = [10, 33, 90, 250];
    predictTransfer(turned, hz).levelDb.forEach((level, i) => {
      expect(level).toBeCloseTo(predictTransfer(room, hz).levelDb[i], 6);
    });
  });

  it('is the pressure zone well below the first mode: 4 pi / (V k^2), rising 12 dB per octave downwards', () => {
    // the mass of air as one spring; closed form of the mode (0, 0, 0). Damping is made small against the frequency.
    const tight: Room = { ...room, decayS: 60 };
    const hz = [0.5, 1];
    const { levelDb, phaseDeg } = predictTransfer(tight, hz);
    hz.forEach((f, i) => {
      const k = (2 * Math.PI * f) / speedOfSound();
      expect(levelDb[i]).toBeCloseTo(20 * Math.log10((4 * Math.PI) / (67.5 * k * k)), 1);
      expect(Math.abs(phaseDeg[i])).toBeGreaterThan(170);
    });
  });

  it('is the inverse-distance law and plain delay in a huge dead hall, near the source', () => {
    const hall: Room = {
      lengthM: 60,
      widthM: 60,
      heightM: 60,
      decayS: 0.05,
      source: [30, 30, 30],
      microphone: [32, 30, 30],
    };
    const { levelDb, phaseDeg } = predictTransfer(hall, [20, 40, 80]);
    // k = w / c sqrt(1 - 2 j d / w): the same damping acts on the way through free air
    [20, 40, 80].forEach((f, i) => {
      const [kRe, kIm] = waveNumber(hall, f);
      expect(levelDb[i]).toBeCloseTo(20 * Math.log10(Math.exp(kIm * 2) / 2), 4);
      expect(turn(phaseDeg[i] + (kRe * 2 * 180) / Math.PI)).toBeCloseTo(0, 3);
    });
  });

  it('adds coherent sources: 6.02 dB on a floor, 12.04 dB along an edge, 18.06 dB in a corner of a huge dead hall', () => {
    // each wall at hand doubles the pressure: 20 lg 2, closed form; the way to the other walls is long and damped
    const hall = { lengthM: 60, widthM: 60, heightM: 60, decayS: 0.05 };
    const level = (source: [number, number, number]) =>
      predictTransfer({ ...hall, source, microphone: [source[0] + 2, source[1], source[2]] }, [40]).levelDb[0];
    const free = level([30, 30, 30]);
    expect(level([30, 30, 0]) - free).toBeCloseTo(6.0206, 3);
    expect(level([30, 0, 0]) - free).toBeCloseTo(12.0412, 3);
    expect(Math.abs(level([0, 0, 0]) - free - 18.0618)).toBeLessThan(0.001);
  });

  it('peaks at a mode where the room rings long, by the quality w T / 13.8', () => {
    const ringing: Room = { ...room, decayS: 20, source: [0, 0, 0], microphone: [6, 0, 0] };
    const [first] = roomModes(ringing, { toHz: 40 });
    const w = 2 * Math.PI * first.frequencyHz;
    // one mode alone: 4 pi c^2 / (V e) / |2 j d w|, e = 1/2
    const damping = (3 * Math.LN10) / 20;
    const alone = 20 * Math.log10((4 * Math.PI * speedOfSound() ** 2 * 2) / (67.5 * 2 * damping * w));
    expect(predictTransfer(ringing, [first.frequencyHz]).levelDb[0]).toBeCloseTo(alone, 1);
  });

  it('is reckoned with the microphone very near the source', () => {
    const near: Room = { ...room, decayS: 0.12, source: [2, 2, 1], microphone: [2.06, 2.06, 1.06] };
    expect(predictTransfer(near, [60]).levelDb[0]).toBeCloseTo(imageSumDb(near, 60), 4);
  });

  it('keeps to frequencies it can reckon', () => {
    const many = Array.from({ length: 65536 }, (_, i) => 0.4 * (i + 1));
    expect(() => predictTransfer(room, many)).toThrow(expect.objectContaining({ code: 'too-many-modes' }));
    expect(() => predictTransfer(room, [20, 0])).toThrow(expect.objectContaining({ code: 'frequency-not-positive' }));
    expect(predictTransfer(room, [])).toEqual({ levelDb: [], phaseDeg: [] });
  });

  it('takes frequencies in any order', () => {
    const { levelDb } = predictTransfer(room, [210, 20, 90]);
    expect(levelDb.map((_, i) => predictTransfer(room, [[210, 20, 90][i]]).levelDb[0])).toEqual(levelDb);
  });

  it('takes time in step with how many frequencies are asked for', () => {
    // Processor time, the least of several: other programs must not decide.
    const timeOf = (count: number) => {
      const hz = Array.from({ length: count }, (_, i) => 15 * 13.3 ** (i / (count - 1)));
      const times = Array.from({ length: 5 }, () => {
        const start = process.cpuUsage();
        predictTransfer(room, hz);
        const { user, system } = process.cpuUsage(start);
        return user + system;
      });
      return Math.min(...times);
    };
    expect(timeOf(3000) / timeOf(300)).toBeLessThan(40);
  });
});

function waveNumber({ decayS = 0.5 }: Room, hz: number): [re: number, im: number] {
  const w = 2 * Math.PI * hz;
  const y = (2 * 3 * Math.LN10) / decayS / w;
  const size = Math.sqrt(Math.hypot(1, y));
  const angle = 0.5 * Math.atan2(-y, 1);
  return [(w / speedOfSound()) * size * Math.cos(angle), (w / speedOfSound()) * size * Math.sin(angle)];
}

/** 4 pi sum exp(-j k r) / (4 pi r) over all images from which more than 1e-9 arrives. */
function imageSumDb(place: Room, hz: number): number {
  const [kRe, kIm] = waveNumber(place, hz);
  const reach = Math.log(1e-9) / kIm;
  const along = [place.lengthM, place.widthM, place.heightM].map((side, axis) => {
    const offsets: number[] = [];
    const most = Math.ceil(reach / (2 * side)) + 1;
    for (let n = -most; n <= most; n++) {
      for (const sign of [1, -1]) offsets.push(2 * n * side + sign * place.source![axis] - place.microphone![axis]);
    }
    return offsets;
  });
  let re = 0;
  let im = 0;
  for (const x of along[0]) {
    for (const y of along[1]) {
      for (const z of along[2]) {
        const r = Math.sqrt(x * x + y * y + z * z);
        if (r > reach) continue;
        const size = Math.exp(kIm * r) / r;
        re += size * Math.cos(kRe * r);
        im -= size * Math.sin(kRe * r);
      }
    }
  }
  return 10 * Math.log10(re * re + im * im);
}
