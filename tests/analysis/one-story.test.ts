import { describe, expect, it } from 'vitest';
import { resultText } from '../../electron/cli/analysis-output.ts';
import type { AnalysisResult } from '../../shared/model/results/analysis-result.ts';
import type { Block } from '../../shared/report/document.ts';
import { proofDocument } from '../../shared/report/proof.ts';
import { answer } from './answer.ts';
import { cases } from './warnings/warning-cases.ts';

const textOf = (block: Block): string[] => {
  switch (block.kind) {
    case 'list':
      return block.items;
    case 'facts':
      return block.rows.map(({ label, value }) => `${label}: ${value}`);
    case 'table':
      return block.rows.flat();
    case 'figure':
      return [block.caption, block.alternative];
    case 'signature':
      return block.lines;
    case 'paragraph':
    case 'caution':
      return [block.text];
  }
};
/** Every sentence and number of the report. */
const reportLines = (document: ReturnType<typeof proofDocument>): string[] => [
  ...document.keyResults.flatMap(({ label, value, note }) => [`${label}: ${value}`, note]),
  ...document.sections.flatMap(({ heading, blocks }) => [heading, ...blocks.flatMap(textOf)]),
];

/** The proven lower bounds of a result, rounded once, in whole percent. */
const boundsOf = ({ lightOff }: AnalysisResult): number[] =>
  [
    lightOff?.lowerBound,
    ...[lightOff?.atSetPoint, lightOff?.atAsLeft].flatMap((at) => [at?.plain.lowerBound, at?.delayed.lowerBound]),
  ]
    .filter((bound) => bound !== undefined)
    .map((bound) => Math.min(99, Math.round(100 * bound)));

describe.each(Object.entries(cases))('what is said of a sweep with %s', (_, make) => {
  const { capture, setup } = make();
  const given = { ...capture, setup: setup ?? capture.setup };
  const analysis = answer(given);
  const { result } = analysis;
  const report = reportLines(proofDocument({ capture: given, analysis, madeAt: '2026-11-25T09:00:00Z', version: '1' }));
  const table = resultText('sweep.csv', result).split('\n');
  const said = [...table, ...report];

  it('says each warning once', () => {
    const { warnings } = result;
    expect(new Set(warnings.map(({ code }) => code)).size).toBe(warnings.length);
    expect(new Set(warnings.map(({ message }) => message)).size).toBe(warnings.length);
  });

  it('asks for one thing only: never slower and faster, never lower where the maker forbids and lower again', () => {
    const all = result.warnings.map(({ message }) => message).join(' ');
    expect(/slow/iu.test(all) && /fast/iu.test(all)).toBe(false);
    const codes = result.warnings.map(({ code }) => code);
    // A range cannot be unreached and without a flame, nor a window be missing and have a set point.
    expect(codes.includes('no-window') && result.setPoint !== undefined).toBe(false);
    expect(codes.includes('signal-below-required') && codes.includes('low-end-not-reached')).toBe(false);
    expect(codes.includes('no-light-offs') && codes.includes('few-light-offs')).toBe(false);
    expect(codes.includes('light-off-not-proved') && codes.includes('few-light-offs')).toBe(false);
  });

  it('gives the same proven percent in sentence, table, report and JSON', () => {
    const bounds = boundsOf(result);
    for (const line of said)
      for (const [, percent] of line.matchAll(/at least (\d+) %/gu)) expect(bounds).toContain(Number(percent));
  });

  it('shows no range from a number to the same number', () => {
    // "1.70 to 1.70", but not "1.70 to 1.705".
    const empty = said.filter((line) => /(?<![\d.-])(-?\d+(?:\.\d+)?) to \1(?![\d.]*\d)/u.test(line));
    expect(empty).toEqual([]);
  });
});
