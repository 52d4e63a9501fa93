import { createRequire } from 'node:module';
import { dirname, join, sep } from 'node:path';
import { visibleText } from '../../../shared/model/visible-text.ts';
import type { KeyResult, Block, ProofDocument, Section } from '../../../shared/report/document.ts';

/**
 * The report as PDF bytes. The same document gives the same text as with `renderHtml`; charts stay vectors and all text can be
 * searched and copied. Throws only for bugs: any document can be printed.
 */
export async function renderPdf(document: ProofDocument): Promise<Uint8Array> {
  const pdfmake = loadPdfmake();
  const hasGlyph = await glyphTest(pdfmake);
  let isIncomplete = false;
  /** Characters that the font does not have are shown as a box, with a note at the end of the report. */
  const toPrintable: ToPrintable = (text) =>
    Array.from(visibleText(text.replace(/\s/gu, ' ')), (character) => {
      if (hasGlyph(character)) return character;
      isIncomplete = true;
      return '□';
    }).join('');
  const content = [
    heading(document, toPrintable),
    answers(document.keyResults, toPrintable),
    ...document.sections.map(sectionIn(toPrintable)),
  ];
  if (isIncomplete)
    content.push(paragraph('Characters shown as □ are not in the font of this PDF. The HTML report shows them.'));
  const foot = toPrintable(document.footer);
  const pdf = pdfmake.createPdf({
    pageSize: document.paper,
    pageMargins: [42, 42, 42, 50],
    info: {
      title: `${document.title}: ${document.subtitle}`,
      creator: 'Pilot Bench',
      producer: 'Pilot Bench',
      creationDate: new Date(document.madeAt),
    },
    version: '1.7',
    language: 'en',
    displayTitle: true,
    defaultStyle: { font: 'Roboto', fontSize: 9.5, lineHeight: 1.15, color: '#1a1a1a' },
    styles: { faint: { color: '#5f6368' } },
    content,
    footer: (page: number, pages: number) => ({
      margin: [42, 16, 42, 0],
      columns: [
        { text: foot, fontSize: 8, style: 'faint' },
        { text: `page ${page} of ${pages}`, fontSize: 8, style: 'faint', alignment: 'right', width: 70 },
      ],
    }),
    // A heading that would stand alone at the foot of a page goes to the next.
    pageBreakBefore: (node: LaidOutNode, nodes: { getFollowingNodesOnPage: () => LaidOutNode[] }) =>
      node.headlineLevel === 1 && nodes.getFollowingNodesOnPage().length === 0,
  });
  return await pdf.getBuffer();
}

/** The text with a box for each character that the font does not have. */
type ToPrintable = (text: string) => string;
type Content = Record<string, unknown>;
interface LaidOutNode {
  headlineLevel?: number;
}

/** The part of pdfmake that is used here; it has no types of its own. */
interface Pdfmake {
  setFonts(fonts: Record<string, Record<string, string>>): void;
  setLocalAccessPolicy(allowed: (path: string) => boolean): void;
  setUrlAccessPolicy(allowed: (url: string) => boolean): void;
  createPdf(definition: Content): {
    getBuffer(): Promise<Uint8Array>;
    getStream(): Promise<{
      provideFont(name: string, bold: boolean, italics: boolean): FontUse;
      end(): void;
      resume(): void;
    }>;
  };
}
interface FontUse {
  font: { hasGlyphForCodePoint(codePoint: number): boolean };
}

/** pdfmake, allowed to read its own fonts and nothing else, from nowhere else. */
function loadPdfmake(): Pdfmake {
  const require = createRequire(import.meta.url);
  const pdfmake = require('pdfmake') as Pdfmake;
  const folder = join(dirname(require.resolve('pdfmake/package.json')), 'fonts', 'Roboto');
  const font = (name: string) => join(folder, `Roboto-${name}.ttf`);
  pdfmake.setFonts({
    Roboto: {
      normal: font('Regular'),
      bold: font('Medium'),
      italics: font('Italic'),
      bolditalics: font('MediumItalic'),
    },
  });
  pdfmake.setLocalAccessPolicy((path) => path.startsWith(folder + sep));
  pdfmake.setUrlAccessPolicy(() => false);
  return pdfmake;
}

/** Whether the font has a glyph for a character. */
async function glyphTest(pdfmake: Pdfmake): Promise<(character: string) => boolean> {
  const probe = await pdfmake.createPdf({ content: [' '] }).getStream();
  const { font } = probe.provideFont('Roboto', false, false);
  probe.resume();
  probe.end();
  return (character) => font.hasGlyphForCodePoint(character.codePointAt(0) ?? 0);
}

const heading = (document: ProofDocument, toPrintable: ToPrintable): Content => ({
  stack: [
    { text: toPrintable(document.title), fontSize: 20, bold: true },
    { text: toPrintable(document.subtitle), fontSize: 12, margin: [0, 2, 0, 0] },
    { text: toPrintable(document.madeWith), style: 'faint', margin: [0, 2, 0, 10] },
  ],
});

const toneInk: Record<KeyResult['tone'], string> = {
  neutral: '#9aa0a6',
  good: '#009E73',
  caution: '#E69F00',
  bad: '#D55E00',
};

/** Two answers a row, each with a bar in the color of its tone; the note says the same in words. */
function answers(given: KeyResult[], toPrintable: ToPrintable): Content {
  const cell = ({ label, value, note }: KeyResult): Content => ({
    stack: [
      { text: toPrintable(label), style: 'faint' },
      { text: toPrintable(value), fontSize: 15, bold: true },
      { text: toPrintable(note) },
    ],
    margin: [6, 3, 4, 3],
  });
  const rows: Content[][] = [];
  for (let i = 0; i < given.length; i += 2) rows.push(given.slice(i, i + 2).map(cell));
  return {
    table: { widths: ['50%', '50%'], body: rows, dontBreakRows: true },
    layout: {
      hLineWidth: () => 4,
      hLineColor: () => '#ffffff',
      vLineWidth: (i: number) => (i < 2 ? 4 : 0),
      vLineColor: (i: number, _node: unknown, row: number) => toneInk[given[row * 2 + i]?.tone ?? 'neutral'],
    },
  };
}

const sectionIn =
  (toPrintable: ToPrintable) =>
  ({ heading: title, blocks }: Section): Content => {
    const head = {
      text: toPrintable(title),
      fontSize: 12,
      bold: true,
      headlineLevel: 1,
      margin: [0, 14, 0, 4],
    };
    const content = blocks.map((each) => blockIn(each, toPrintable));
    const together = keptWithHeading(blocks);
    return together === 0
      ? { stack: [head, ...content] }
      : { stack: [{ stack: [head, ...content.slice(0, together)], unbreakable: true }, ...content.slice(together)] };
  };

/** How many blocks stay on the page of their heading: the first one, and a short table that a paragraph introduces. */
function keptWithHeading([first, second]: Block[]): number {
  const isLong = (block: Block | undefined) => block?.kind === 'table' && block.rows.length > keptTogether;
  if (!first || isLong(first)) return 0;
  return first.kind === 'paragraph' && second?.kind === 'table' && !isLong(second) ? 2 : 1;
}

/** Most rows of a table that is kept on one page: fewer are not worth a break, more would leave half a page empty. */
const keptTogether = 8;

const paragraph = (text: string): Content => ({ text, margin: [0, 2, 0, 4] });

function blockIn(given: Block, toPrintable: ToPrintable): Content {
  switch (given.kind) {
    case 'paragraph':
      return paragraph(toPrintable(given.text));
    case 'list':
      return { ul: given.items.map(toPrintable), margin: [0, 2, 0, 4] };
    case 'facts':
      return {
        table: {
          widths: ['36%', '64%'],
          body: given.rows.map(({ label, value }) => [
            { text: toPrintable(label), style: 'faint' },
            toPrintable(value),
          ]),
          dontBreakRows: true,
        },
        layout: lines(() => false),
        margin: [0, 2, 0, 4],
      };
    case 'table':
      return table(given, toPrintable);
    case 'figure':
      return {
        stack: [
          { svg: given.svg.replaceAll(/>([^<>]+)</gu, (_, text: string) => `>${toPrintable(text)}<`), width: 525 },
          { text: toPrintable(given.caption), style: 'faint', margin: [0, 2, 0, 6] },
        ],
        unbreakable: true,
      };
    case 'caution':
      return {
        table: {
          widths: ['100%'],
          body: [[{ text: [{ text: 'Caution. ', bold: true }, toPrintable(given.text)] }]],
          dontBreakRows: true,
        },
        layout: {
          hLineWidth: () => 0,
          vLineWidth: (i: number) => (i === 0 ? 3 : 0),
          vLineColor: () => '#D55E00',
          fillColor: () => '#fdf1ea',
        },
        margin: [0, 3, 0, 5],
      };
    default: // signature
      return {
        columns: given.lines.map((line) => ({
          stack: [
            { canvas: [{ type: 'line', x1: 0, y1: 0, x2: 155, y2: 0, lineWidth: 0.7 }] },
            { text: toPrintable(line), style: 'faint' },
          ],
        })),
        columnGap: 20,
        margin: [0, 40, 0, 0],
      };
  }
}

function table({ columns, rows }: Extract<Block, { kind: 'table' }>, toPrintable: ToPrintable): Content {
  const total = columns.reduce((sum, column) => sum + column.share, 0);
  return {
    table: {
      headerRows: 1,
      keepWithHeaderRows: 1,
      dontBreakRows: true,
      widths: columns.map((column) => `${((column.share / total) * 100).toFixed(2)}%`),
      body: [
        columns.map(({ heading: text, align }) => ({ text: toPrintable(text), bold: true, alignment: align })),
        ...rows.map((row) =>
          row.map((cell, i) => ({ text: toPrintable(cell), alignment: columns[i]?.align ?? 'left' })),
        ),
      ],
    },
    layout: lines((i) => i === 1),
    margin: [0, 2, 0, 4],
    unbreakable: rows.length <= keptTogether,
  };
}

/** Thin lines between rows, a strong one where `strong` says so. */
const lines = (strong: (i: number) => boolean) => ({
  hLineWidth: (i: number, node: { table: { body: unknown[] } }) =>
    i === 0 || i === node.table.body.length ? 0 : strong(i) ? 1 : 0.5,
  hLineColor: (i: number) => (strong(i) ? '#1a1a1a' : '#e2e4e7'),
  vLineWidth: () => 0,
  paddingLeft: (i: number) => (i === 0 ? 0 : 7),
  paddingRight: () => 4,
});
