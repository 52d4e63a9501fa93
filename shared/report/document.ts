/**
 * The report as plain data, before it is HTML or PDF. Every string is plain text (never markup) except `svg`.
 * Both faces print the same strings, so a number is formatted once and cannot differ between them.
 */
export interface ProofDocument {
  title: string;
  /** Burner and site, in one line. */
  subtitle: string;
  captureId: string;
  /** "made with" line: program, version, when. */
  madeWith: string;
  /** Wall time the report was made, ISO 8601. */
  madeAt: string;
  /** The paper that the country of the pressure unit prints on. */
  paper: 'A4' | 'LETTER';
  /** The answer, before anything else. */
  keyResults: KeyResult[];
  sections: Section[];
}

export interface KeyResult {
  label: string;
  value: string;
  note: string;
  /** `good` and `bad` get a word and a shape as well as a colour. */
  tone: 'plain' | 'good' | 'doubt' | 'bad';
}

export interface Section {
  heading: string;
  blocks: Block[];
}

export interface Column {
  heading: string;
  align: 'left' | 'right';
  /** Share of the width; the columns of one table are weighed against each other. */
  share: number;
}

export type Block =
  | { kind: 'paragraph'; text: string }
  | { kind: 'list'; items: string[] }
  | { kind: 'facts'; rows: { label: string; value: string }[] }
  | { kind: 'table'; columns: Column[]; rows: string[][] }
  | { kind: 'figure'; svg: string; width: number; height: number; caption: string; alternative: string }
  | { kind: 'caution'; text: string }
  | { kind: 'signature'; lines: string[] };
