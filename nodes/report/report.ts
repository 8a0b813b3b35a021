import { join } from 'node:path';
import { BassloomError } from '../../lib/model/errors';
import { procedure, room } from '../configs';
import { define } from '../define';
import { flag, number, text } from '../fields';
import { fullPath } from '../paths';
import { markOutdated } from './outdated';
import { safeName } from './safeName';
import { today } from './today';
import { topicOf } from './topicOf';
import { withExposure } from './withExposure';
import { writeReport } from './writeReport';

export = define({
  type: 'bassloom-report',
  kind: 'report',
  settings: {
    procedure,
    room,
    title: text(),
    dated: flag(true),
    date: text(),
    levelDba: number({ min: 0, max: 200 }),
    write: flag(true),
    folder: text(),
  },
  async run({ lib, RED, settings, message, findings, measurements, signal }) {
    const payload = measurements();
    if (settings.write && !settings.folder) {
      throw new BassloomError('bad-setting', 'Setting "folder" is empty, and so is msg.folder.', { field: 'folder' });
    }
    const topic = topicOf(message, payload);
    const folder = settings.write ? join(fullPath(RED, settings.folder as string), safeName(topic)) : null;
    try {
      const exposed = withExposure(lib, payload, findings, settings.levelDba);
      const concluded = lib.withConclusions(payload, exposed);
      const input = {
        topic,
        measurements: payload,
        findings: concluded,
        procedure: settings.procedure,
        room: settings.room,
        title: settings.title,
        generatedAt: settings.dated ? (settings.date ?? today()) : undefined,
      };
      const made = await lib.renderReport(input, { signal });
      const files = folder ? await writeReport(folder, topic, made) : [];
      return {
        findings: { conclusions: concluded.conclusions },
        set: { topic, report: { html: made.html, headlines: made.headlines, verdict: made.verdict, folder, files } },
        status: RED._(folder ? 'status.written' : 'status.made', { count: files.length }),
      };
    } catch (problem) {
      // the first problem is the one to tell
      if (folder && !signal.aborted) await markOutdated(folder).catch(() => {});
      throw problem;
    }
  },
});
