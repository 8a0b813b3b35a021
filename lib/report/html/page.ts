import { isTooLong } from '../../analysis/conclusions/atTheEar';
import type { Headline } from '../../model/findings';
import { measuredLine } from '../measuredLine';
import type { Session } from '../session';
import { escapeHtml, plainName, proseHtml } from '../text';
import { captureSection } from './captureSection';
import { cautions } from './cautions';
import { type CarriedFile, dataSection } from './dataSection';
import { detailsHtml } from './detailsHtml';
import { type Doubts, doubtsHtml, doubtsOf, whyId } from './doubts';
import { exposureNote } from './exposureNote';
import type { MethodNotes } from './factTable';
import { type DrawnFigure, figureHtml, figureNumbers } from './figureHtml';
import { glanceTable } from './glanceTable';
import { methodSection } from './method';
import { recordingTable } from './recordingTable';
import { styles } from './styles';
import { termsSection } from './terms';

export interface PageParts {
  session: Session;
  title: string;
  generatedAt?: string;
  /** The figure on the first screen, those below it, and those that are folded. */
  figures: { first?: DrawnFigure; main: DrawnFigure[]; more: DrawnFigure[] };
  notes: MethodNotes;
  files: CarriedFile[];
  /** The curves have too many points to be carried. */
  curvesLeftOut: boolean;
  harmonicsLeftOut: boolean;
}

/** No script, no request, whatever a name in a file may say. */
const POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";

/** The whole page: one file that needs nothing beside it. One screen that says it all, then what stands behind it, folded. */
export function page(parts: PageParts): string {
  const { session, figures } = parts;
  const { page: words } = session.words;
  const doubts = doubtsOf(session);
  const glance = glanceTable(session);
  const sections = [
    firstScreen(parts, doubts),
    glance ? open('glance', words.glance, glance) : '',
    figures.main.length + figures.more.length > 0 ? open('figures', words.figures, figuresHtml(parts)) : '',
    `<section id="more" aria-labelledby="more-title">\n<h2 id="more-title">${words.more}</h2>\n${foldedParts(parts, doubts).join('\n')}\n</section>`,
  ].filter(Boolean);
  return `<!doctype html>
<html lang="${words.language}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${POLICY}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${escapeHtml(parts.title)}</title>
<style>${styles()}</style>
</head>
<body>
<a class="skip" href="#findings">${words.skip}</a>
<header>
<h1>${escapeHtml(parts.title)}</h1>
${metaLine(parts)}
</header>
<main>
${sections.join('\n')}
</main>
<footer><p>${words.footer}</p></footer>
</body>
</html>
`;
}

/** What the first screen holds below name, date and what was measured: one picture and the headlines. */
function firstScreen(parts: PageParts, doubts: Doubts): string {
  const { session, figures } = parts;
  const { words } = session;
  // its numbers come after all that belongs to the first screen
  const picture = figures.first ? figureHtml(figures.first, words, '') : '';
  const numbers = figures.first ? figureNumbers(figures.first, words) : '';
  return `<section id="findings" class="first${picture ? '' : ' bare'}" aria-labelledby="findings-title">
<h2 id="findings-title" class="unseen">${words.page.headlines}</h2>
${picture}
<div class="said">
${alerts(parts, doubts)}${headlinesHtml(parts, doubts)}
</div>
${numbers}
</section>`;
}

function headlinesHtml({ session, figures }: PageParts, doubts: Doubts): string {
  const { page: words } = session.words;
  const { findings, responses, recordings } = session;
  const headlines = findings.conclusions?.headlines ?? [];
  if (headlines.length === 0) {
    const isBare = Object.keys(findings).every((key) => key === 'notes' || key === 'conclusions');
    return `<p>${isBare ? words.noAnalysis(responses.length, recordings.length) : words.noConclusion}</p>`;
  }
  const drawn = [figures.first, ...figures.main, ...figures.more].filter((one) => one !== undefined);
  const item = (headline: Headline): string => {
    const at = drawn.find(({ figure }) => figure.id === headline.figure);
    const why = whyId(doubts, headline);
    const links = [
      ...(at ? [`<a class="to" href="#${at.figure.id}">${words.figureLink}<span>${at.number}</span></a>`] : []),
      ...(why
        ? [`<a class="why" href="#${why}" title="${words.doubtMark}" aria-label="${words.doubtMark}">?</a>`]
        : []),
    ];
    const kind = why ? ' class="doubted"' : '';
    return `<li${kind}>${proseHtml(plainName(headline.text))}${links.map((link) => ` ${link}`).join('')}</li>`;
  };
  return `<ol class="headlines">\n${headlines.map(item).join('\n')}\n</ol>`;
}

/** What must not be overlooked, whatever the headlines say. */
function alerts({ session }: PageParts, doubts: Doubts): string {
  const { findings, procedures, words } = session;
  const { exposure, conclusions } = findings;
  const warnings = doubts.groups.filter(({ caveat }) => caveat.severity === 'warning').length;
  const isMixedSaid = conclusions?.headlines.some(({ code }) => code === 'mixed-procedures') ?? false;
  const missing = (findings.notes ?? []).filter(({ code }) => code === 'analysis-missing');
  const lines = [
    ...missing.map(({ message }) => escapeHtml(plainName(message))),
    ...(procedures.length > 1 && !isMixedSaid ? [escapeHtml(words.page.mixed)] : []),
    ...(warnings > 0 ? [`<a href="#doubt-1">${words.page.warnings(warnings)}</a>`] : []),
    ...(exposure && isTooLong(exposure)
      ? [
          escapeHtml(
            words.page.exposure.tooLong(exposure.measuredSeconds as number, exposure.permittedSeconds as number),
          ),
        ]
      : []),
  ];
  return lines.map((line) => `<p class="warning">${line}</p>\n`).join('');
}

function figuresHtml({ figures, session }: PageParts): string {
  const { words } = session;
  const html = (list: DrawnFigure[]): string => list.map((one) => figureHtml(one, words)).join('\n');
  const more =
    figures.more.length > 0
      ? `<details class="open"><summary>${words.page.moreFigures(figures.more.length)}</summary>\n${html(figures.more)}\n</details>`
      : '';
  return `${html(figures.main)}\n${more}`;
}

function foldedParts(parts: PageParts, doubts: Doubts): string[] {
  const { session } = parts;
  const { page: words } = session.words;
  const data = `<p>${dataWords(parts)}</p>${dataSection(parts.files, session.words)}${recordingTable(session.recordings, session.words)}`;
  const contents: [id: string, title: string, html: string][] = [
    ['verdict', words.verdict, detailsHtml(session, parts.figures)],
    ['doubts', words.doubts, doubtsHtml(doubts, session)],
    ['captures', words.captures, captureSection(session)],
    ['method', words.method, methodSection(session, parts.notes)],
    ['terms', words.terms, termsSection(session)],
    ['cautions', words.cautions, `${exposureNote(session.findings.exposure, session.words)}${cautions(session.words)}`],
    ['data', words.data, data],
  ];
  return contents
    .filter(([, , html]) => html !== '')
    .map(
      ([id, title, html]) =>
        // the id stands inside, so that a link to it opens the fold
        `<details class="open part"><summary>${escapeHtml(title)}</summary>\n<div id="${id}">\n${html}\n</div>\n</details>`,
    );
}

function dataWords({ curvesLeftOut, harmonicsLeftOut, session }: PageParts): string {
  const { dataWords: words } = session.words.page;
  return curvesLeftOut || harmonicsLeftOut ? words.left(curvesLeftOut, harmonicsLeftOut) : words.all;
}

function open(id: string, title: string, content: string): string {
  return `<section id="${id}" aria-labelledby="${id}-title">\n<h2 id="${id}-title">${escapeHtml(title)}</h2>\n${content}\n</section>`;
}

/** Date, and what was measured. */
function metaLine(parts: PageParts): string {
  const { generatedAt } = parts;
  const date = generatedAt ? `<time>${escapeHtml(plainName(generatedAt))}</time>` : '';
  const measured = escapeHtml(measuredLine(parts.session, parts.notes));
  return `<p class="meta">${[date, measured].filter(Boolean).join(' <span aria-hidden="true">·</span> ')}</p>`;
}
