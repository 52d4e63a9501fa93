import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';

/** A folder for one test, removed after it. */
export function testFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'pilot-bench-test-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}
