import { useState } from 'react';
import { useFeed } from '../state/feeds.ts';
import { useHostAction, useHostQuery } from '../state/host-calls.ts';
import { FileButton } from '../ui/controls/FileButton.tsx';
import { ChoiceField } from '../ui/controls/Field.tsx';
import { Panel } from '../ui/Panel.tsx';
import { Notice } from '../ui/Notice.tsx';
import { Working } from '../ui/Working.tsx';

/** Imports files: a data package, or a CSV with its setup and trials beside it. */
export function ImportDrop() {
  const [isOver, setOver] = useState(false);
  const imports = useHostAction('files.import', ['burners.list']);
  const progress = useFeed('files.progress', imports.busy ? {} : undefined);
  const { data: burners } = useHostQuery('burners.list', {});
  const [burnerId, setBurnerId] = useState('');
  const [done, setDone] = useState<Awaited<ReturnType<typeof imports.run>>>();

  const importFiles = async (list: Iterable<File>) => {
    const files = await Promise.all(
      Array.from(list, async (file) => ({ name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) })),
    );
    setDone(files.length > 0 ? await imports.run({ files, ...(burnerId !== '' && { burnerId }) }) : undefined);
  };
  const added = done?.captures.filter((capture) => capture.added).length ?? 0;
  const alreadyStored = (done?.captures.length ?? 0) - added;

  return (
    <Panel name="Import files">
      <div
        className="drop"
        data-over={isOver}
        onDragOver={(event) => {
          event.preventDefault();
          setOver(true);
        }}
        onDragLeave={() => setOver(false)}
        onDrop={(event) => {
          event.preventDefault();
          setOver(false);
          void importFiles(event.dataTransfer.files);
        }}
      >
        <FileButton
          label="Choose files"
          name="Files to import"
          accept=".csv,.zip,.json"
          multiple
          disabled={imports.busy}
          onChoose={(files) => void importFiles(files)}
        />
        <p className="drop-help">
          or drop them here: a data package (.zip), or a CSV file with its .setup.json and .trials.csv files
        </p>
        {burners && burners.length > 0 && (
          <ChoiceField
            name="Belongs to"
            value={burnerId}
            choices={[
              { value: '', label: 'As named in the files' },
              ...burners.map(({ id, site, name }) => ({ value: id, label: [site, name].filter(Boolean).join(', ') })),
            ]}
            onChange={setBurnerId}
          />
        )}
      </div>
      {imports.busy && (
        <Working
          name={progress?.part === undefined ? 'Reading the files' : `Storing ${progress.file}`}
          part={progress?.part}
          onCancel={imports.stop}
        />
      )}
      {imports.fault?.code === 'cancelled' ? (
        <Notice tone="plain" text="Stopped. Captures that were complete before are in the list." />
      ) : (
        imports.fault && <Notice tone="bad" text={imports.fault.message} />
      )}
      {done?.problems.map((problem) => (
        <Notice key={problem.message} tone="bad" text={problem.message} />
      ))}
      {done?.captures.flatMap(({ id, notices }) =>
        (notices ?? []).map((notice) => <Notice key={id + notice} tone="warning" text={notice} />),
      )}
      {added > 0 && <Notice tone="good" text={added === 1 ? 'One capture added.' : `${added} captures added.`} />}
      {alreadyStored > 0 && (
        <Notice
          tone="plain"
          text={
            alreadyStored === 1
              ? 'One capture was already in the store.'
              : `${alreadyStored} captures were already in the store.`
          }
        />
      )}
    </Panel>
  );
}
