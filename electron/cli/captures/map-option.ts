import type { Command } from 'commander';
import { readMapping } from '../../../shared/files/logger/read-mapping.ts';
import type { Mapping } from '../../../shared/model/logger/mapping.ts';
import { ok, type Outcome } from '../../../shared/model/outcome.ts';
import { printMessage } from '../output.ts';
import { readText } from './files.ts';

/** `--map FILE|auto`, for every command that reads files of other loggers. */
export const withMapOption = (command: Command): Command =>
  command.option(
    '--map <file|auto>',
    "read another logger's text file: auto tells separator, times, columns and units from its content, a JSON file says them",
  );

/**
 * The mapping of `--map`: undefined for `auto`. Prints notices about unknown keys.
 * Fails with the faults of reading a file, or `map-invalid`.
 */
export async function mappingOf(map: string): Promise<Outcome<Mapping | undefined>> {
  if (map === 'auto') return ok(undefined);
  const text = await readText(map);
  if (!text.ok) return text;
  const read = readMapping({ file: map, text: text.value });
  if (!read.ok) return read;
  for (const notice of read.value.notices) printMessage(notice);
  return ok(read.value.mapping);
}
