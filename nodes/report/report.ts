import { join } from 'node:path';
import { BassloomError } from '../../lib/model/errors';
import { procedure, room } from '../configs';
import { define } from '../define';
import { flag, number, text } from '../fields';
import { fullPath } from '../paths';
import { today } from './today';
import { withExposure } from './withExposure';
import { safeName, writeFiles } from './writeFiles';

export = define({
  type: 'bassloom-report',
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
    const topic = typeof message.topic === 'string' && message.topic !== '' ? message.topic : unitOf(payload);
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
    const { html, headlines, verdict, findingsJson, tables } = await lib.renderReport(input, { signal });
    const folder = settings.write ? join(fullPath(RED, settings.folder as string), safeName(topic)) : null;
    const files = folder
      ? await writeFiles(folder, [
          ...tables.map(({ name, csv }) => ({ name, text: csv })),
          { name: 'findings.json', text: findingsJson },
          { name: 'report.html', text: html },
        ])
      : [];
    return {
      findings: { conclusions: concluded.conclusions },
      set: { topic, report: { html, headlines, verdict, folder, files } },
      status: RED._(folder ? 'status.written' : 'status.made', { count: files.length }),
    };
  },
});

function unitOf(measurements: { about: { device?: string } }[]): string {
  return measurements.find(({ about }) => about.device)?.about.device ?? 'unnamed';
}
