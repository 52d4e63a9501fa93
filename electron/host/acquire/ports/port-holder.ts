import { readdir, readFile, readlink, realpath } from 'node:fs/promises';

/**
 * Who has the port open, on Linux: the names of programs with their process numbers, as part of a sentence. Undefined where that is
 * not known: on other systems, and for programs of other users, whose files only root may see.
 * @param port  path of the device
 * @param proc  the folder of the processes, as in proc(5)
 */
export async function holderOf(port: string, proc = '/proc'): Promise<string | undefined> {
  const device = await realpath(port).catch(() => undefined);
  if (device === undefined) return undefined;
  const holders: string[] = [];
  for (const pid of (await readdir(proc).catch(() => [])).filter((name) => /^\d+$/u.test(name))) {
    if (!(await openFilesOf(`${proc}/${pid}/fd`)).includes(device)) continue;
    if (Number(pid) === process.pid) return 'this Pilot Bench itself';
    const name = await readFile(`${proc}/${pid}/comm`, 'utf8').catch(() => '');
    holders.push(`${name.trim()} (process ${pid})`);
  }
  // Several may have it open, and only one of them the lock.
  return holders.length > 0 ? `the program ${holders.slice(0, 3).join(' or ')}` : undefined;
}

/** The files that a process has open; none when it is another user's, or has ended meanwhile. */
async function openFilesOf(folder: string): Promise<string[]> {
  const descriptors = await readdir(folder).catch(() => []);
  return Promise.all(descriptors.map((fd) => readlink(`${folder}/${fd}`).catch(() => '')));
}
