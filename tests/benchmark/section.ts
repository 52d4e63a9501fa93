/** What a person may ask of the benchmark. */
export interface BenchmarkOptions {
  /** Simulated sweeps (or pairs of them) of each kind; each section has its own default. */
  sweeps: number | undefined;
  seed: number;
  /** Kinds of sweeps to simulate; all if not given. */
  kinds: string[] | undefined;
  /** Simulated hours of a long recording; the section has its own default. */
  hours?: number | undefined;
  /** Shows a waiting person how far it is. */
  progress: (text: string) => void;
}

/** One figure that is promised, and what was found. `met` is undefined where it could not be measured. */
export interface Figure {
  what: string;
  wanted: string;
  found: string;
  met: boolean | undefined;
}

/** What one section found: lines for people, the same for programs, and the figures it stands for. */
export interface SectionResult {
  lines: string[];
  data: object;
  figures: Figure[];
}

/** One part of the benchmark. Each is a file or folder of its own and is listed in `sections.ts`. */
export interface Section {
  name: string;
  title: string;
  run: (options: BenchmarkOptions) => Promise<SectionResult>;
}
