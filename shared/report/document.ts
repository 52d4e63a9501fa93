/**
 * The report as plain data, before it is rendered as HTML or PDF. Every string is plain text (never markup) except `svg`.
 * Both renderers print the same strings, so a number is formatted once and cannot differ between them.
 */
export interface ProofDocument {
  title: string;
  /** Burner and site, in one line. */
  subtitle: string;
  /** Stands at the foot of every page: which capture it is, and that it is practice when it is. */
  footer: string;
  /** "made with" line: program, version, when. */
  madeWith: string;
  /** Wall time the report was made, ISO 8601. */
  madeAt: string;
  /** Letter for inH2O and psi, A4 for metric pressure units. */
  paper: 'A4' | 'LETTER';
  /** The four results everyone looks for first. */
  keyResults: KeyResult[];
  sections: Section[];
}

export interface KeyResult {
  label: string;
  value: string;
  note: string;
  /** Every tone but `neutral` also has a symbol, so that color is never the only signal. */
  tone: 'neutral' | 'good' | 'caution' | 'bad';
}

export interface Section {
  heading: string;
  blocks: Block[];
}

export interface Column {
  heading: string;
  align: 'left' | 'right';
  /** Relative width; only the proportions within one table count. */
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
