import { readdir, readFile, readlink, realpath } from 'node:fs/promises';

/**
 * Who has the port open, on Linux: the names of programs with their process numbers. Undefined where it cannot be told: other
 * systems, and programs of other users, whose files only root may see.
 * @param proc  where the system tells of its processes, as in proc(5)
 */
export async function holderOf(port: string, proc = '/proc'): Promise<string | undefined> {
  const device = await realpath(port).catch(() => undefined);
  if (device === undefined) return undefined;
  const holders: string[] = [];
  for (const pid of (await readdir(proc).catch(() => [])).filter((name) => /^\d+$/u.test(name))) {
    if (!(await opensOf(`${proc}/${pid}/fd`)).includes(device)) continue;
    if (Number(pid) === process.pid) return 'this Pilot Bench itself';
    const name = await readFile(`${proc}/${pid}/comm`, 'utf8').catch(() => '');
    holders.push(`${name.trim()} (process ${pid})`);
  }
  // Several may have it open, and one of them the lock that is in the way.
  return holders.length > 0 ? `the program ${holders.slice(0, 3).join(' or ')}` : undefined;
}

/** The files that a process has open; none when it is another user's, or gone meanwhile. */
async function opensOf(folder: string): Promise<string[]> {
  const opens = await readdir(folder).catch(() => []);
  return Promise.all(opens.map((fd) => readlink(`${folder}/${fd}`).catch(() => '')));
}
