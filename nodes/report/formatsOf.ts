import type { ReportFormat } from '../../lib/report/reportInFormats';

/** Forms of a report that are asked for beside its page. */
export function formatsOf({ summary, pictures }: { summary: boolean; pictures: boolean }): ReportFormat[] {
  return [...(summary ? (['markdown', 'text'] as const) : []), ...(pictures ? (['png'] as const) : [])];
}
