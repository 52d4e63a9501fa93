import { useState } from 'react';
import { companionName } from '../../shared/files/companion-name.ts';
import type { Mapping } from '../../shared/model/logger/mapping.ts';
import { type CallOutput, useHostAction } from '../state/host-calls.ts';

/** A file as the host takes it. */
export interface GivenFile {
  name: string;
  bytes: Uint8Array;
}

/** A file of another logger that waits for its mapping, with the setup and trials that were chosen with it. */
export interface ForeignFile extends GivenFile {
  /** Tells files of one name apart. */
  key: number;
  companions: GivenFile[];
}

let lastKey = 0;

/** Import of files: ours at once, and those of other loggers one after the other as each gets its mapping. */
export function useFileImport() {
  const imports = useHostAction('files.import', ['burners.list']);
  const [done, setDone] = useState<CallOutput<'files.import'>>();
  const [waiting, setWaiting] = useState<ForeignFile[]>([]);
  const [burnerId, setBurnerId] = useState('');

  const run = async (files: (GivenFile & { mapping?: Mapping })[]) => {
    const result = await imports.run({ files, ...(burnerId !== '' && { burnerId }) });
    setDone(result);
    return result;
  };
  return {
    done,
    /** The files that wait, the first of which is asked about. */
    waiting,
    busy: imports.busy,
    fault: imports.fault,
    stop: imports.stop,
    burnerId,
    setBurnerId,
    async importFiles(list: Iterable<File>) {
      const files = await Promise.all(
        Array.from(list, async (file) => ({ name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) })),
      );
      if (files.length === 0) return setDone(undefined);
      const result = await run(files);
      const foreign = files.filter(({ name }) => result?.foreign?.some((one) => one.name === name));
      const named = foreign.map((file): ForeignFile => {
        const own = [companionName(file.name, '.setup.json'), companionName(file.name, '.trials.csv')];
        return { ...file, key: (lastKey += 1), companions: files.filter(({ name }) => own.includes(name)) };
      });
      setWaiting((before) => [...before, ...named]);
    },
    /** Imports the first of the waiting files; it waits on where it could not be used. */
    async importMapped({ key, name, bytes, companions }: ForeignFile, mapping: Mapping) {
      const result = await run([{ name, bytes, mapping }, ...companions]);
      if (result?.problems.length === 0) setWaiting((before) => before.filter((file) => file.key !== key));
    },
    leaveOut: (file: ForeignFile) => setWaiting((before) => before.filter(({ key }) => key !== file.key)),
  };
}
