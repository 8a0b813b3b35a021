import type { Findings } from '../../lib/model/findings';
import { define } from '../define';
import { safeName } from '../report/safeName';
import { topicOf } from '../report/topicOf';
import { fields } from './fields';
import { pageHtml } from './pageHtml';

const TYPES = { svg: 'image/svg+xml', png: 'image/png', html: 'text/html; charset=utf-8' };

export = define({
  type: 'bassloom-chart',
  settings: fields,
  async run({ lib, RED, message, measurements, findings, settings, signal }) {
    const { kind, view, setting, format, ...look } = settings;
    const payload = measurements();
    const input = {
      measurements: payload,
      findings: kind === 'curves' ? {} : findings,
      kind: kind === 'curves' ? undefined : (kind as keyof Findings | undefined),
      ...{ view, setting },
    };
    const options = { ...look, format: format === 'png' ? format : 'svg', signal } as const;
    const drawn = Buffer.from(await lib.renderChart(input, options));
    const topic = topicOf(message, payload);
    const picture = format === 'png' ? drawn : drawn.toString();
    return {
      set: {
        payload: format === 'html' ? pageHtml(look.title ?? topic, drawn.toString(), look.theme) : picture,
        filename: `${safeName(topic)}.${format}`,
        headers: { 'content-type': TYPES[format] },
      },
      status: RED._('status.drawn', { format: format.toUpperCase(), width: look.widthPx, height: look.heightPx }),
    };
  },
});
