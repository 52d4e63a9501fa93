import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { renderPdf } from '../../electron/host/jobs/report-pdf.ts';
import { proofDocument } from '../../shared/report/proof.ts';
import type { Capture } from '../../shared/model/capture.ts';
import type { ProofDocument } from '../../shared/report/document.ts';
import { analysisDetail, comparisonDetail, made, visit } from './fixture.ts';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pilot-bench-pdf-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** What can be copied out of the PDF, by poppler's pdftotext. */
async function textOf(document: ProofDocument): Promise<string> {
  const file = join(folder, 'report.pdf');
  writeFileSync(file, await renderPdf(document));
  const { stdout, status } = spawnSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' });
  expect(status).toBe(0);
  return stdout.replace(/\s+/gu, ' ');
}

describe('the report as PDF', () => {
  it('carries every text of the document, charts included, digit for digit', async () => {
    const document = proofDocument({
      capture: visit(),
      analysis: analysisDetail(),
      comparison: comparisonDetail(),
      ...made,
    });
    const text = await textOf(document);
    const wanted = document.sections.flatMap(({ heading, blocks }) => [
      heading,
      ...blocks.flatMap((block) => {
        switch (block.kind) {
          case 'facts':
            return block.rows.flatMap((row) => [row.label, row.value]);
          case 'table':
            return block.rows.flat();
          case 'list':
            return block.items;
          case 'figure':
            return [block.caption, ...[...block.svg.matchAll(/>([^<>]+)</gu)].map((match) => match[1] ?? '')];
          case 'signature':
            return block.lines;
          default:
            return [block.text];
        }
      }),
    ]);
    // Words, since a long text is broken over lines and columns.
    const words = new Set(text.split(' '));
    const missing = wanted
      .flatMap((each) => each.replaceAll('&#39;', "'").split(/\s+/u))
      .filter((word) => word && !words.has(word));
    expect(missing).toEqual([]);
    expect(text).toContain('page 1 of ');
    expect(text).toContain('Capture visit-0001');
  });

  it('says on every page that it is practice, and on none that a real one is', async () => {
    const pagesOf = async (capture: Capture) => {
      const file = join(folder, 'practice.pdf');
      writeFileSync(file, await renderPdf(proofDocument({ capture, analysis: analysisDetail(), ...made })));
      // pdftotext ends each page with a form feed.
      return spawnSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' }).stdout.split('\f').slice(0, -1);
    };
    const pages = await pagesOf(visit({ practice: true }));
    expect(pages.length).toBeGreaterThan(1);
    for (const page of pages) expect(page).toContain('PRACTICE: Capture visit-0001');
    expect(pages[0]).toContain('PRACTICE, an invented burner: proof of pilot settings');
    expect((await pagesOf(visit())).join('')).not.toContain('PRACTICE');
  });

  it('keeps signs beyond ASCII, with the digits around them', async () => {
    const capture = visit({
      technician: 'Žofie Łęcka',
      burner: { site: 'Δp 12.3 kPa, 40 Ω, ≥ 5 µA ± 2 °C', name: 'Котёл 4' },
    });
    const text = await textOf(proofDocument({ capture, analysis: analysisDetail(), ...made }));
    for (const part of ['Žofie Łęcka', 'Δp 12.3 kPa', '40 Ω', '≥ 5 µA ± 2 °C', 'Котёл 4']) expect(text).toContain(part);
  });

  it('reports a character that the font lacks, instead of dropping it', async () => {
    const capture = visit({ burner: { site: 'Site', name: '锅炉 2' } });
    const text = await textOf(proofDocument({ capture, analysis: analysisDetail(), ...made }));
    expect(text).toContain('are not in the font of this PDF');
    expect(await textOf(proofDocument({ capture: visit(), analysis: analysisDetail(), ...made }))).not.toContain(
      'are not in the font',
    );
  });

  it('keeps long words and long lists on the page', async () => {
    const long = 'x'.repeat(400);
    const capture = visit({
      burner: { site: long.slice(0, 200), name: long.slice(0, 200) },
      marks: Array.from({ length: 300 }, (_, i) => ({ elapsedS: i, kind: 'note' as const, text: `mark ${i} ${long}` })),
    });
    const file = join(folder, 'long.pdf');
    writeFileSync(file, await renderPdf(proofDocument({ capture, analysis: analysisDetail(), ...made })));
    const boxes = spawnSync('pdftotext', ['-bbox', file, '-'], { encoding: 'utf8' }).stdout;
    const rights = [...boxes.matchAll(/xMax="([\d.]+)"/gu)].map((match) => Number(match[1]));
    expect(rights.length).toBeGreaterThan(1000);
    expect(Math.max(...rights)).toBeLessThanOrEqual(612 - 36); // Letter is 612 points wide
    expect(boxes).toContain('>299<');
  });

  it('gives the same bytes for the same document', async () => {
    const document = proofDocument({ capture: visit(), analysis: analysisDetail(), ...made });
    expect(Buffer.compare(await renderPdf(document), await renderPdf(document))).toBe(0);
  });

  it('is on Letter paper for inH2O and psi, and on A4 for metric units', () => {
    const paper = (pressureUnit: 'inH2O' | 'mbar' | 'Pa' | 'psi') =>
      proofDocument({ capture: visit(), analysis: analysisDetail({ pressureUnit }), ...made }).paper;
    expect([paper('inH2O'), paper('psi'), paper('mbar'), paper('Pa')]).toEqual(['LETTER', 'LETTER', 'A4', 'A4']);
  });
});
