import { basename } from 'node:path';
import { define } from '../define';
import { fields } from './fields';
import { folderOf } from './folderOf';
import { formatsOf } from './formatsOf';
import { entryOf } from './indexHtml';
import { openOutbox } from './openOutbox';
import { markOutdated } from './outdated';
import { reportOf } from './reportOf';
import { today } from './today';
import { topicOf } from './topicOf';
import { withExposure } from './withExposure';
import { writeReport } from './writeReport';

export = define({
  type: 'bassloom-report',
  kind: 'report',
  settings: fields,
  open: openOutbox,
  async run({ lib, RED, settings, message, findings, measurements, signal, memory: index }) {
    const payload = measurements();
    const topic = topicOf(message, payload);
    const folder = folderOf(RED, settings, topic);
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
      const made = await lib.renderReport(input, { formats: formatsOf(settings), credit: settings.credit, signal });
      const files = folder ? await writeReport(folder, topic, made) : [];
      if (folder) {
        const { headlines } = made;
        index?.add(entryOf({ folder: basename(folder), unit: topic, date: input.generatedAt, payload, headlines }));
      }
      return {
        findings: { conclusions: concluded.conclusions },
        set: { topic, report: reportOf(made, folder, files) },
        status: RED._(folder ? 'status.written' : 'status.made', { count: files.length }),
      };
    } catch (problem) {
      // the first problem is the one to tell
      if (folder && !signal.aborted) {
        await markOutdated(folder).catch(() => {});
        index?.touch();
      }
      throw problem;
    }
  },
});
