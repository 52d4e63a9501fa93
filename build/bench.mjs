// `npm run bench`: installs what it needs, then runs the benchmark under the pinned Node, whichever Node started this.
import { join } from 'node:path';
import { ensureInstalled, pinnedNode, root, run } from './prepare.mjs';

ensureInstalled();
// Memory can only be measured right after a garbage collection.
process.exitCode = run(pinnedNode(), ['--expose-gc', join(root, 'tests/benchmark/main.ts'), ...process.argv.slice(2)], {
  cwd: process.cwd(),
});
