import { adviseCapture } from '../../../shared/advice/advise-capture.ts';
import { analyze } from '../../../shared/analysis/analyze.ts';
import { compare } from '../../../shared/analysis/compare/compare.ts';
import { writeDataPackage, writeZip } from '../../../shared/files/data-package.ts';
import { headingKey } from '../../../shared/files/logger/heading-key.ts';
import { previewMapping } from '../../../shared/files/logger/preview/preview-mapping.ts';
import { writeWideCsv } from '../../../shared/files/wide-csv.ts';
import type { AnalysisDetail, ComparisonDetail } from '../../../shared/model/results/analysis-result.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { renderHtml } from '../../../shared/report/html.ts';
import { reportOf } from '../../../shared/report/report.ts';
import { fileStem } from '../files/file-stem.ts';
import { localOffsetMin } from '../clock.ts';
import { findMapping } from '../store/mappings.ts';
import type { Store } from '../store/open.ts';
import { openStore } from '../store/open.ts';
import { listCaptures } from '../store/read/list-captures.ts';
import { storeFault } from '../store/store-fault.ts';
import { importFiles, textFault } from './import-files.ts';
import type { Job, JobAnswer, JobMessage, JobOrder, NamedBytes } from './jobs.ts';
import { type Captures, capturesIn } from './kept/captures-in.ts';
import { createKeptResults } from './kept/kept-results.ts';

/**
 * The entry of a job process: one order after the other. It is a child process in Node, whose channel is `process`, and a utility process
 * in Electron, whose channel is `process.parentPort`.
 */
const { parentPort } = process as NodeJS.Process & { parentPort?: ParentPort };

/** As far as it is used here: https://www.electronjs.org/docs/latest/api/parent-port */
interface ParentPort {
  on(event: 'message', listener: (event: { data: JobOrder }) => void): void;
  postMessage(message: JobMessage): void;
}

/** What is left to do of a job that has read all it needs: pure computation. */
type Computation = () => JobAnswer | Promise<JobAnswer>;

async function answerTo({ folder, job }: JobOrder): Promise<JobAnswer> {
  const opened = storeOf(folder);
  if (!opened.ok) return opened;
  let computation: Outcome<Computation>;
  try {
    computation = read(opened.value, folder, job);
  } catch (error) {
    forgetStore();
    const refusal = storeFault(error, opened.value.file);
    if (refusal) return fail(refusal);
    throw error;
  }
  return computation.ok ? computation.value() : computation;
}

let kept: { folder: string; store: Store } | undefined;

/** The store, open from the first order on: the host has checked all of its file, which takes long when it is large. */
function storeOf(folder: string): Outcome<Store> {
  if (kept?.folder === folder && !kept.store.isGone()) return ok(kept.store);
  forgetStore();
  const opened = openStore(folder, { isChecked: true });
  if (opened.ok) kept = { folder, store: opened.value };
  return opened;
}

/** After a failure the next order begins with a new connection. */
function forgetStore(): void {
  kept?.store.close();
  kept = undefined;
}

/** Everything that a job has to do with the store, in one state of it. */
function read(store: Store, folder: string, job: Job): Outcome<Computation> {
  if (job.kind === 'import') {
    const imported = importFiles(store, job, (progress) => reply({ progress }));
    return ok(() => imported);
  }
  if (job.kind === 'preview') {
    const { file, mapping } = job;
    const large = textFault(file);
    if (large) return fail(large);
    const recall = (text: string) => {
      const heading = headingKey(text);
      return heading === undefined ? undefined : findMapping(store.db, heading);
    };
    const preview = previewMapping(file.name, file.bytes, mapping, recall, localOffsetMin);
    return ok(() => preview);
  }
  return store.db.transaction(() => prepare(capturesIn(store, createKeptResults(folder)), store, job))();
}

function prepare(
  captures: Captures,
  { db }: Store,
  job: Exclude<Job, { kind: 'import' | 'preview' }>,
): Outcome<Computation> {
  switch (job.kind) {
    case 'list': {
      const list = listCaptures(db, job);
      return ok(() => ok(list));
    }
    case 'analyze':
      return captures.result('analysis', [job.capture], (capture) => analyze(capture, job.setup), job.setup);
    case 'advise':
      return captures.result('advice', [job.capture], (capture) => adviseCapture(capture));
    case 'compare':
      return captures.result('comparison', [job.before, job.after], compare);
    case 'report': {
      const capture = captures.load(job.capture);
      if (!capture.ok) return capture;
      // The same results as on the screen.
      const analysis = captures.result('analysis', [job.capture], (one) => analyze(one));
      if (!analysis.ok) return analysis;
      if (job.before === undefined) return ok(() => makeReport(capture.value, job, analysis.value));
      const comparison = captures.result('comparison', [job.before, job.capture], compare);
      return comparison.ok ? ok(() => makeReport(capture.value, job, analysis.value, comparison.value)) : comparison;
    }
    case 'export': {
      const capture = captures.load(job.capture);
      return capture.ok ? ok(() => ok(exportFile(capture.value, job.format))) : capture;
    }
  }
}

function exportFile(capture: Capture, format: 'package' | 'csv'): NamedBytes {
  const stem = fileStem(capture);
  return format === 'csv'
    ? { name: `${stem}.csv`, bytes: new TextEncoder().encode(writeWideCsv(capture)) }
    : { name: `${stem}.zip`, bytes: writeZip(writeDataPackage(capture)) };
}

async function makeReport(
  capture: Capture,
  job: Extract<Job, { kind: 'report' }>,
  analyzed: () => Promise<Outcome<AnalysisDetail>>,
  compared?: () => Promise<Outcome<ComparisonDetail>>,
): Promise<Outcome<NamedBytes>> {
  const analysis = await analyzed();
  // What gives no window cannot be compared either.
  const comparison = analysis.ok ? await compared?.() : undefined;
  if (comparison && !comparison.ok) return comparison;
  const report = reportOf({
    capture,
    analysis,
    ...(comparison && { comparison: comparison.value }),
    madeAt: job.madeAt,
    version: job.version,
  });
  if (!report.ok) return report;
  const document = report.value;
  const name = `${fileStem(capture)}-proof.${job.format}`;
  if (job.format === 'html') return ok({ name, bytes: new TextEncoder().encode(renderHtml(document)) });
  // Loaded only for a PDF: it is the largest library here.
  const { renderPdf } = await import('./report-pdf.ts');
  return ok({ name, bytes: await renderPdf(document) });
}

async function carryOut(order: JobOrder): Promise<void> {
  try {
    reply({ answer: await answerTo(order) });
  } catch (error) {
    reply({ bug: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  }
}

function reply(message: JobMessage): void {
  // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a process's port, not a window
  if (parentPort) parentPort.postMessage(message);
  // The host may have ended meanwhile; then nobody wants the answer.
  else process.send?.(message, () => {});
}

// Ctrl-C in a terminal, and its window when it closes, reach every process there; the host decides what becomes of a job. It ends this
// one with SIGTERM in Electron.
for (const signal of ['SIGINT', 'SIGHUP']) process.on(signal, () => {});
if (parentPort) parentPort.on('message', ({ data }) => void carryOut(data));
else process.on('message', (order: JobOrder) => void carryOut(order));
