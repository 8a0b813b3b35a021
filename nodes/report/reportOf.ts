import type { FormattedReport } from '../../lib/report/reportInFormats';

/** What others may use of it: what is in the findings and in files already is left out. */
export function reportOf(
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
