import { basename, join } from 'node:path';
import { BassloomError } from '../../lib/model/errors';
import type { FormattedReport, ReportFormat } from '../../lib/report/reportInFormats';
import { procedure, room } from '../configs';
import { define, type Own, withCause } from '../define';
import { flag, number, text } from '../fields';
import { explainFileProblem } from '../fileProblem';
import { fullPath } from '../paths';
import { entryOf } from './indexHtml';
import { type OutboxIndex, openIndex } from './outboxIndex';
import { markOutdated } from './outdated';
import { safeName } from './safeName';
import { today } from './today';
import { topicOf } from './topicOf';
import { withExposure } from './withExposure';
import { writeReport } from './writeReport';

const fields = {
  procedure,
  room,
  title: text(),
  dated: flag(true),
  date: text(),
  levelDba: number({ min: 0, max: 200 }),
  write: flag(true),
  folder: text(),
  index: flag(false),
  summary: flag(false),
  pictures: flag(false),
  credit: text(),
};

/** The page of all units, where the node is to keep one and its dialog says where. */
function openOutbox({ node, RED, settings }: Own<typeof fields>): OutboxIndex | undefined {
  if (!settings.index || !settings.write || !settings.folder) return undefined;
  const tell = (problem: unknown) => node.error(withCause(explainFileProblem(problem)), { filename: 'index.html' });
  const index = openIndex(fullPath(RED, settings.folder), tell);
  node.on('close', (_removed, done) => index.close().then(done, done));
  return index;
}

/** What others may use of it: what is in the findings and in files already is left out. */
function reportOf(
  { html, headlines, verdict, markdown, text, pictures }: FormattedReport,
  folder: string | null,
  files: string[],
) {
  return {
    ...{ html, headlines, verdict, folder, files },
    ...(markdown !== undefined && { markdown, text }),
    ...(pictures && { pictures: pictures.map((one) => ({ ...one, png: Buffer.from(one.png) })) }),
  };
}

export = define({
  type: 'bassloom-report',
  kind: 'report',
  settings: fields,
  open: openOutbox,
  async run({ lib, RED, settings, message, findings, measurements, signal, memory: index }) {
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
      const formats: ReportFormat[] = [
        ...(settings.summary ? (['markdown', 'text'] as const) : []),
        ...(settings.pictures ? (['png'] as const) : []),
      ];
      const made = await lib.renderReport(input, { formats, credit: settings.credit, signal });
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
