import { formatCount } from '../format';
import type { Session } from '../session';
import { escapeHtml, proseHtml } from '../text';
import type { Sentence } from '../verdict/sentence';
import { captureSection } from './captureSection';
import { CAUTIONS } from './cautions';
import { type CarriedFile, dataSection } from './dataSection';
import { exposureNote } from './exposureNote';
import type { MethodNotes } from './factTable';
import { type DrawnFigure, figureHtml } from './figureHtml';
import { glanceTable } from './glance';
import { methodSection } from './method';
import { recordingTable } from './recordingTable';
import { styles } from './styles';

export interface PageParts {
  session: Session;
  title: string;
  generatedAt?: string;
  sentences: Sentence[];
  figures: DrawnFigure[];
  notes: MethodNotes;
  files: CarriedFile[];
  /** The curves have too many points to be carried. */
  curvesLeftOut: boolean;
  harmonicsLeftOut: boolean;
}

/** No script, no request, whatever a name in a file may say. */
const POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";

/** The whole page: one file that needs nothing beside it. */
export function page(parts: PageParts): string {
  const { session, figures } = parts;
  const glance = glanceTable(session);
  const captures = captureSection(session);
  const sections = [
    section('verdict', 'Verdict', verdictHtml(parts)),
    glance ? section('glance', 'At a glance', glance) : '',
    figures.length > 0 ? section('figures', 'Figures', figures.map(figureHtml).join('\n')) : '',
    captures ? section('captures', 'Captures', captures) : '',
    section('method', 'Method and trust', methodSection(session, parts.notes)),
    section('cautions', 'Cautions', `${exposureNote(session.findings.exposure)}${CAUTIONS}`),
    section(
      'data',
      'Data',
      `<p>${dataWords(parts)}</p>${dataSection(parts.files)}${recordingTable(session.recordings)}`,
    ),
  ].filter(Boolean);
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${POLICY}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${escapeHtml(parts.title)}</title>
<style>${styles()}</style>
</head>
<body>
<a class="skip" href="#verdict">To the verdict</a>
<header>
<p class="kind">Subwoofer measurement report</p>
<h1>${escapeHtml(parts.title)}</h1>
${metaLine(parts)}
<nav aria-label="Sections"><ul>${sections.map(navItem).join('')}</ul></nav>
</header>
<main>
${sections.join('\n')}
</main>
<footer><p>Made with Bassloom. Every sentence above is written from the findings that this page carries; every figure can be traced through the steps listed under method.</p></footer>
</body>
</html>
`;
}

function dataWords({ curvesLeftOut, harmonicsLeftOut }: PageParts): string {
  if (!curvesLeftOut && !harmonicsLeftOut) return 'The data of this report, held in this page.';
  const left = curvesLeftOut ? (harmonicsLeftOut ? 'curves and their harmonics' : 'curves') : 'curves of harmonics';
  return `All findings of this report, held in this page; the ${left} themselves are too large for it and stay in the files they came from.`;
}

function section(id: string, title: string, content: string): string {
  return `<section id="${id}" aria-labelledby="${id}-title">\n<h2 id="${id}-title">${title}</h2>\n${content}\n</section>`;
}

function navItem(html: string): string {
  const [, id, title] = /^<section id="([a-z]+)"[\s\S]*?<h2[^>]*>([^<]+)</.exec(html) as RegExpExecArray;
  return `<li><a href="#${id}">${title}</a></li>`;
}

function metaLine({ session, generatedAt }: PageParts): string {
  const { responses, recordings } = session;
  const parts = [
    ...(responses.length > 0 || recordings.length === 0 ? [formatCount(responses.length, 'run')] : []),
    ...(recordings.length > 0 ? [formatCount(recordings.length, 'recording')] : []),
    ...(session.settings.length > 1 ? [`${session.settings.length} settings`] : []),
    ...(session.procedures.length === 1 && session.procedures[0] ? [`procedure ‘${session.procedures[0]}’`] : []),
    ...(generatedAt ? [`written ${generatedAt}`] : []),
  ];
  return `<p class="meta">${escapeHtml(parts.join(', '))}</p>`;
}

/** Sentences under what they are about; each with a link to the figure it rests on. */
function verdictHtml({ sentences, figures }: PageParts): string {
  const topics = [...new Set(sentences.map((sentence) => sentence.topic))];
  const numbers = new Map(figures.map(({ figure, number }) => [figure.id, number]));
  const entry = (topic: string): string => {
    const lines = sentences
      .filter((sentence) => sentence.topic === topic)
      .map((sentence) => sentenceHtml(sentence, numbers));
    return `<dt>${escapeHtml(topic)}</dt><dd>${lines.join('\n')}</dd>`;
  };
  return `<dl class="verdict">${topics.map(entry).join('\n')}</dl>`;
}

/** Names of sections that sentences link to, beside the method. */
const SECTION_NAMES: Record<string, string> = { captures: 'Captures', cautions: 'Cautions' };

function sentenceHtml(sentence: Sentence, numbers: Map<string, number>): string {
  const text = sentence.parts
    .map((part) => (typeof part === 'string' ? proseHtml(part) : `<strong>${proseHtml(part.key)}</strong>`))
    .join('');
  const number = sentence.figure === undefined ? undefined : numbers.get(sentence.figure);
  const name = number === undefined ? (SECTION_NAMES[sentence.figure ?? ''] ?? 'Method') : `Figure ${number}`;
  const link = sentence.figure === undefined ? '' : ` <a class="to" href="#${sentence.figure}">${name}</a>`;
  return `<p${sentence.warning ? ' class="warning"' : ''}>${text}${link}</p>`;
}
