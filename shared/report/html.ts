import type { KeyResult, Block, ProofDocument, Section } from './document.ts';
import { joinUnits } from './join-units.ts';
import { escapeMarkup } from './charts/svg.ts';

const escape = (text: string): string => escapeMarkup(joinUnits(text));

/**
 * The report as a single HTML file: loads nothing, runs no script, light colors only, prints on A4 and Letter.
 * Every text of the document is escaped; only the charts, which are drawn here, are inserted as markup.
 */
export function renderHtml(document: ProofDocument): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="only light">
<meta name="generator" content="Pilot Bench">
<link rel="icon" href="data:,">
<title>${escape(`${document.title}: ${document.subtitle}`)}</title>
<style>${style}
@page { @bottom-left { content: "${cssText(document.footer)}"; font: 9pt system-ui, sans-serif; } }
</style>
</head>
<body>
<main>
<header>
<h1>${escape(document.title)}</h1>
<p class="subtitle">${escape(document.subtitle)}</p>
<p class="generated">${escape(document.madeWith)}</p>
</header>
<dl class="results">
${document.keyResults.map(keyResult).join('\n')}
</dl>
${document.sections.map(section).join('\n')}
</main>
</body>
</html>
`;
}

/** What stands in the page margins: letters, digits and the few signs that ids have, so that nothing can leave the string. */
const cssText = (text: string): string => text.replace(/[^\p{L}\p{N} ._:-]/gu, '?');

/** The tone as a symbol in front of the note, so that color is never the only signal. */
export const toneSymbols: Record<KeyResult['tone'], string> = { neutral: '', good: '✓ ', caution: '! ', bad: '✗ ' };

const keyResult = ({ label, value, note, tone }: KeyResult): string =>
  `<div class="${tone}"><dt>${escape(label)}</dt><dd><b>${escape(value)}</b><span><i aria-hidden="true">${toneSymbols[tone]}</i>${escape(note)}</span></dd></div>`;

const section = ({ heading, blocks }: Section, index: number): string =>
  `<section aria-labelledby="s${index + 1}">\n<h2 id="s${index + 1}">${escape(heading)}</h2>\n${blocks.map(block).join('\n')}\n</section>`;

function block(given: Block): string {
  switch (given.kind) {
    case 'paragraph':
      return `<p>${escape(given.text)}</p>`;
    case 'list':
      return `<ul>${given.items.map((item) => `<li>${escape(item)}</li>`).join('')}</ul>`;
    case 'facts':
      return `<table class="facts"><tbody>${given.rows
        .map(({ label, value }) => `<tr><th scope="row">${escape(label)}</th><td>${escape(value)}</td></tr>`)
        .join('')}</tbody></table>`;
    case 'table':
      return table(given);
    case 'figure':
      return `<figure><div role="img" aria-label="${escape(given.alternative)}">${given.svg}</div><figcaption>${escape(given.caption)}</figcaption></figure>`;
    case 'caution':
      return `<p class="warning"><strong>Caution.</strong> ${escape(given.text)}</p>`;
    default: // signature
      return `<div class="signature">${given.lines.map((line) => `<p>${escape(line)}</p>`).join('')}</div>`;
  }
}

function table({ columns, rows }: Extract<Block, { kind: 'table' }>): string {
  const total = columns.reduce((sum, column) => sum + column.share, 0);
  const widths = columns.map((column) => `<col style="width:${((column.share / total) * 100).toFixed(1)}%">`).join('');
  const head = columns.map(({ heading, align }) => `<th scope="col" class="${align}">${escape(heading)}</th>`).join('');
  const body = rows
    .map((row) => {
      const cells = row.map((cell, i) => `<td class="${columns[i]?.align ?? 'left'}">${escape(cell)}</td>`);
      return `<tr>${cells.join('')}</tr>`;
    })
    .join('');
  return `<table class="rows"><colgroup>${widths}</colgroup><thead><tr>${head}</tr></thead><tbody>${body}</tbody></table>`;
}

const style = `
:root { color-scheme: only light; }
* { box-sizing: border-box; }
body { margin: 0; background: #fff; color: #1a1a1a; font: 14px/1.45 system-ui, -apple-system, "Segoe UI", Roboto, "Liberation Sans", sans-serif; font-variant-numeric: tabular-nums; }
main { max-width: 800px; margin: 0 auto; padding: 28px 24px 48px; }
h1 { font-size: 28px; line-height: 1.15; margin: 0; }
.subtitle { font-size: 17px; margin: 4px 0 0; overflow-wrap: anywhere; }
.generated { color: #5f6368; margin: 4px 0 18px; }
h2 { font-size: 17px; margin: 26px 0 8px; padding-top: 8px; border-top: 2px solid #1a1a1a; }
p, ul { margin: 8px 0; overflow-wrap: anywhere; }
ul { padding-left: 20px; }
.results { display: grid; grid-template-columns: repeat(2, 1fr); gap: 10px; margin: 0; }
.results > div { border: 1px solid #9aa0a6; border-left-width: 6px; border-radius: 4px; padding: 8px 12px; }
.results .good { border-left-color: #009E73; }
.results .caution { border-left-color: #E69F00; border-left-style: dashed; }
.results .bad { border-left-color: #D55E00; border-left-style: double; }
.results dt { color: #5f6368; }
.results dd { margin: 0; }
.results b { display: block; font-size: 22px; line-height: 1.25; }
.results i { font-style: normal; font-weight: bold; }
table { border-collapse: collapse; width: 100%; margin: 8px 0; }
th, td { padding: 4px 8px; vertical-align: top; text-align: left; overflow-wrap: anywhere; }
.facts th { width: 36%; font-weight: normal; color: #5f6368; padding-left: 0; }
.facts tr { border-bottom: 1px solid #e2e4e7; }
.rows { table-layout: fixed; }
.rows thead th { border-bottom: 1.5px solid #1a1a1a; vertical-align: bottom; overflow-wrap: normal; }
.rows th:first-child, .rows td:first-child { padding-left: 0; }
.rows tbody tr { border-bottom: 1px solid #e2e4e7; }
.right { text-align: right; }
figure { margin: 10px 0; }
figure svg { display: block; width: 100%; height: auto; }
figure text { font-family: inherit; }
figcaption { color: #5f6368; margin-top: 2px; }
.warning { border-left: 4px solid #D55E00; background: #fdf1ea; padding: 8px 12px; }
.signature { display: flex; gap: 28px; margin-top: 64px; }
.signature p { flex: 1; border-top: 1px solid #1a1a1a; padding-top: 4px; color: #5f6368; }
@page { margin: 15mm 15mm 18mm; @bottom-right { content: "page " counter(page) " of " counter(pages); font: 9pt system-ui, sans-serif; } }
@media print {
  body { font-size: 10pt; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
  main { max-width: none; padding: 0; }
  h2 { break-after: avoid; }
  tr, figure, .results, .warning, .signature, li { break-inside: avoid; }
  section:last-child { break-inside: avoid; }
  thead { display: table-header-group; }
}
@media (max-width: 560px) { .results { grid-template-columns: 1fr; } }
`;
