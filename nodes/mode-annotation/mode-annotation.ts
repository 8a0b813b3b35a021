import { procedure, room } from '../configs';
import { define } from '../define';
import { number, numbers } from '../fields';
import { rangeOf } from '../judged';

export = define({
  type: 'bassloom-mode-annotation',
  kind: 'analysis',
  settings: {
    procedure,
    room,
    listedHz: numbers({ max: 100000 }),
    toleranceHz: number({ above: 0, max: 20 }),
    minProminenceDb: number({ above: 0, max: 40, otherwise: 3 }),
    rangeLowHz: number({ above: 0, max: 100000, otherwise: 15 }),
    rangeHighHz: number({ above: 0, max: 100000, otherwise: 200 }),
  },
  run({ lib, settings, responses }) {
    const { listedHz, toleranceHz, minProminenceDb } = settings;
    const temperatureC = settings.room?.temperatureC ?? settings.procedure?.temperatureC;
    const here = settings.room && { ...settings.room, temperatureC };
    const rangeHz = rangeOf(settings.rangeLowHz, settings.rangeHighHz);
    const options = { room: here, listedHz, toleranceHz, minProminenceDb, rangeHz };
    const roomFeatures = lib.findRoomFeatures(responses(), options);
    const roomPrediction = here?.source && here.microphone && lib.predictRoom(here, { name: here.name });
    return {
      findings: { roomFeatures, ...(roomPrediction && { roomPrediction }) },
      set: here && { room: here },
      status: lib.summariseRoomFeatures(roomFeatures),
    };
  },
});
