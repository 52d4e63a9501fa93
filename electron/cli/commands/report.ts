import { extname } from 'node:path';
import type { Command } from 'commander';
import { analyze } from '../../../shared/analysis/analyze.ts';
import { compare } from '../../../shared/analysis/compare/compare.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import type { ProofDocument } from '../../../shared/report/document.ts';
import { renderHtml } from '../../../shared/report/html.ts';
import { proofDocument } from '../../../shared/report/proof.ts';
import { reportOf } from '../../../shared/report/report.ts';
import { isoLocal } from '../../host/clock.ts';
import type { Host } from '../../host/host.ts';
import { fileFault } from '../analysis-output.ts';
import { writeAtomically } from '../../host/files/write-whole.ts';
import { checkOutputFiles, forceOption, type Overwriting } from '../captures/check-output.ts';
import type { Status } from '../output.ts';
import { CallError, reportWritten } from '../output.ts';
import type { Companions } from '../captures/read-capture.ts';
import { withMapOption } from '../captures/map-option.ts';
import { fileOrCapture } from '../captures/store-capture.ts';
import { storeOnDemand, withStoreOption } from '../captures/open-store.ts';
import { version } from '../program-files.ts';

interface Options extends Companions, Overwriting {
  out: string;
  before?: string;
  data?: string;
}

export const describe = (command: Command): Command =>
  withMapOption(withStoreOption(command))
    .description('Writes the proof-of-settings report of one visit.')
    .argument('<file-or-capture>', 'wide CSV, data package (.zip or folder), or the id of a capture in the store')
    .requiredOption('--out <file>', 'file to write: .pdf or .html')
    .option('--before <file-or-capture>', 'an earlier sweep of the same burner to compare with')
    .option('--setup <file>', 'setup to use instead of the one beside the file')
    .option('--trials <file>', 'light-off trials to use instead of those beside the file')
    .option(...forceOption);

export async function run(source: string, options: Options): Promise<Status> {
  const free = await checkOutputFiles([options.out], options);
  if (!free.ok) return reportWritten(free, options.out);
  const ending = extname(options.out).toLowerCase();
  if (ending !== '.pdf' && ending !== '.html') throw new CallError(`${options.out} must end in .pdf or .html`);
  const store = storeOnDemand(options);
  try {
    const document = await makeDocument(source, options, store.open);
    if (!document.ok) return reportWritten(document, options.out);
    const content = ending === '.html' ? renderHtml(document.value) : await makePdf(document.value);
    return reportWritten(await writeAtomically(options.out, content), options.out);
  } finally {
    await store.close();
  }
}

async function makePdf(document: ProofDocument): Promise<Uint8Array> {
  const { renderPdf } = await import('../../host/jobs/report-pdf.ts');
  return renderPdf(document);
}

async function makeDocument(
  source: string,
  options: Options,
  store: () => Promise<Outcome<Host>>,
): Promise<Outcome<ProofDocument>> {
  const capture = await fileOrCapture(source, options, store);
  if (!capture.ok) return capture;
  const basics = { capture: capture.value, madeAt: isoLocal(Date.now()), version };
  const alone = () => {
    const document = reportOf({ ...basics, analysis: analyze(capture.value) });
    return document.ok ? document : fail(fileFault(source, document.fault));
  };
  if (options.before === undefined) return alone();
  const before = await fileOrCapture(options.before, { map: options.map }, store);
  if (!before.ok) return before;
  // The comparison analyzes both sweeps, so this one is not analyzed again.
  const comparison = compare(before.value, capture.value);
  if (comparison.ok)
    return ok(proofDocument({ ...basics, analysis: comparison.value.after, comparison: comparison.value }));
  // What gives no window cannot be compared, but may have trials on record.
  return analyze(capture.value).ok ? comparison : alone();
}
