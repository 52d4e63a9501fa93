import { useState } from 'react';
import { useHostAction, useHostQuery } from '../state/host-calls.ts';
import { FileButton } from '../ui/controls/FileButton.tsx';
import { ChoiceField } from '../ui/controls/Field.tsx';
import { Panel } from '../ui/Panel.tsx';
import { Notice } from '../ui/Notice.tsx';

/** Files from elsewhere: a CSV of any logger with its companions, or a data package. */
export function ImportDrop() {
  const [isOver, setOver] = useState(false);
  const imports = useHostAction('files.import', ['captures.list', 'burners.list']);
  const { data: burners } = useHostQuery('burners.list', {});
  const [burnerId, setBurnerId] = useState('');
  const [done, setDone] = useState<Awaited<ReturnType<typeof imports.run>>>();

  const take = async (list: Iterable<File>) => {
    const files = await Promise.all(
      Array.from(list, async (file) => ({ name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) })),
    );
    setDone(files.length > 0 ? await imports.run({ files, ...(burnerId !== '' && { burnerId }) }) : undefined);
  };
  const added = done?.captures.filter((capture) => capture.added).length ?? 0;
  const known = (done?.captures.length ?? 0) - added;

  return (
    <Panel name="Bring in files">
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
          void take(event.dataTransfer.files);
        }}
      >
        <FileButton
          label="Choose files"
          name="Files to bring in"
          accept=".csv,.zip,.json"
          multiple
          disabled={imports.busy}
          onChoose={(files) => void take(files)}
        />
        <p className="drop-says">
          or drop them here: a data package (.zip), or a CSV together with its .setup.json and .trials.csv
        </p>
        {burners && burners.length > 0 && (
          <ChoiceField
            name="They are of"
            value={burnerId}
            choices={[
              { value: '', label: 'As the files say' },
              ...burners.map(({ id, site, name }) => ({ value: id, label: [site, name].filter(Boolean).join(', ') })),
            ]}
            onChange={setBurnerId}
          />
        )}
      </div>
      {imports.busy && <output>Reading</output>}
      {imports.fault && <Notice tone="bad" text={imports.fault.message} />}
      {done?.problems.map((problem) => (
        <Notice key={problem.message} tone="bad" text={problem.message} />
      ))}
      {done?.captures.flatMap(({ id, notices }) =>
        (notices ?? []).map((notice) => <Notice key={id + notice} tone="doubt" text={notice} />),
      )}
      {added > 0 && <Notice tone="good" text={added === 1 ? 'One capture added.' : `${added} captures added.`} />}
      {known > 0 && (
        <Notice
          tone="plain"
          text={known === 1 ? 'One was in the store already.' : `${known} were in the store already.`}
        />
      )}
    </Panel>
  );
}
