import { z } from 'zod';
import { BurnerFacts, MeterFacts } from '../model/capture.ts';
import { fault } from '../model/faults.ts';
import { readJson } from '../model/validation/json-text.ts';
import { fail, ok, type Outcome } from '../model/outcome.ts';
import { issueMessage } from '../model/validation/issue-message.ts';

/**
 * Whether a path stays inside its package. Frictionless Data Package 1.0 ("Data Resource", path; from memory) forbids absolute
 * paths and parent folders, as a package from elsewhere could name any file of this computer.
 */
const staysInside = (path: string): boolean =>
  !/^(?:[\\/]|[a-z]:)/iu.test(path) && !path.split(/[\\/]/u).includes('..');

const Descriptor = z.object({
  id: z.string().optional(),
  resources: z.array(
    z.object({
      name: z.string(),
      path: z.string().refine(staysInside, 'it leads out of the folder of the package').optional(),
    }),
  ),
  pilotBench: z
    .object({
      id: z.string().min(1).max(200),
      startedAt: z.string().optional(),
      technician: z.string().optional(),
      interrupted: z.literal(true).optional(),
      practice: z.boolean().optional(),
      burner: BurnerFacts.optional(),
      meters: z.array(MeterFacts).default([]),
      notes: z.array(z.object({ at: z.string(), by: z.string().optional(), text: z.string() })).default([]),
    })
    .optional(),
});
export type Descriptor = z.infer<typeof Descriptor>;

/** The parts of a package, and their paths when the descriptor gives none. */
const defaultPaths = {
  readings: 'readings.csv',
  lines: 'lines.csv',
  marks: 'marks.csv',
  trials: 'trials.csv',
  setup: 'setup.json',
};
export type Table = keyof typeof defaultPaths;

/** The path of a table in the package: from its descriptor, else the default. */
export const pathOf = ({ resources }: Descriptor, name: Table): string =>
  resources.find((resource) => resource.name === name)?.path ?? defaultPaths[name];

/**
 * The paths of the files that `readDataPackage` reads besides the descriptor; not all need to exist.
 * @param file  the package, for messages
 * @param text  its datapackage.json
 * Fails with `package-invalid`.
 */
export function pathsInPackage(file: string, text: string): Outcome<string[]> {
  const descriptor = readDescriptor(text);
  if (!descriptor.ok) return fail(fault('package-invalid', { file, problems: descriptor.problem }));
  const names = Object.keys(defaultPaths) as Table[];
  return ok([...new Set(names.map((name) => pathOf(descriptor.value, name)))]);
}

/** Reads datapackage.json; `problem` is part of a sentence. */
export function readDescriptor(text: string): { ok: true; value: Descriptor } | { ok: false; problem: string } {
  const json = readJson(text);
  if (!json.ok) return { ok: false, problem: `datapackage.json cannot be read: ${json.problem}` };
  const read = Descriptor.safeParse(json.value);
  return read.success
    ? { ok: true, value: read.data }
    : { ok: false, problem: `in datapackage.json ${read.error.issues.map(issueMessage).join('; ')}` };
}
