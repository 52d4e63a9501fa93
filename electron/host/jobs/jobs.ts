import type { ImportedCapture } from '../../../shared/contract/api.ts';
import type { CaptureAdvice } from '../../../shared/model/results/advice.ts';
import type { AnalysisDetail, ComparisonDetail } from '../../../shared/model/results/analysis-result.ts';
import type { Fault } from '../../../shared/model/faults.ts';
import type { Mapping } from '../../../shared/model/logger/mapping.ts';
import type { MappingPreview } from '../../../shared/model/logger/preview.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import type { CaptureList, ListRequest } from '../store/read/list-captures.ts';

/** A file to save or a file that was given, by name and content. */
export interface NamedBytes {
  name: string;
  bytes: Uint8Array;
}

/** A file to import; another logger's has the mapping by which it is read. */
export interface ImportedFile extends NamedBytes {
  mapping?: Mapping | undefined;
}

/** A text file of another logger, with what keeps it from being read as ours. */
export interface ForeignFile {
  name: string;
  fault: Fault;
}

/** Work that would hold up the ports. Captures are given by id: the process of a job reads the store itself. */
export type Job =
  | ({ kind: 'list' } & ListRequest)
  | { kind: 'analyze'; capture: string; setup?: Setup | undefined }
  | { kind: 'advise'; capture: string }
  | { kind: 'compare'; before: string; after: string }
  | {
      kind: 'report';
      capture: string;
      before?: string | undefined;
      format: 'html' | 'pdf';
      madeAt: string;
      version: string;
    }
  | { kind: 'export'; capture: string; format: 'package' | 'csv' }
  | { kind: 'import'; files: ImportedFile[]; burnerId?: string | undefined; addedAt: string }
  | { kind: 'preview'; file: NamedBytes; mapping?: Mapping | undefined };

export interface JobResults {
  list: CaptureList;
  analyze: AnalysisDetail;
  advise: CaptureAdvice;
  compare: ComparisonDetail;
  report: NamedBytes;
  export: NamedBytes;
  import: { captures: ImportedCapture[]; foreign?: ForeignFile[]; problems: Fault[] };
  preview: MappingPreview;
}

/** What a job process is sent. It answers every order with one message before it is sent the next. */
export interface JobOrder {
  folder: string;
  job: Job;
}
export type JobAnswer = Outcome<JobResults[Job['kind']]>;

/** How far a job is: the file that it works on, and the part of it that is stored, 0 to 1; none while it is read. */
export interface JobProgress {
  file: string;
  part?: number;
}

/** Any number of messages of progress, then the message that answers an order: `bug` is the stack of an exception. */
export type JobMessage = { progress: JobProgress } | JobEnd;
export type JobEnd = { answer: JobAnswer } | { bug: string };
