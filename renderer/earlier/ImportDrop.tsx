import { useEffect, useRef, useState } from 'react';
import { useFeed } from '../state/feeds.ts';
import { useHostQuery } from '../state/host-calls.ts';
import { FileButton } from '../ui/controls/FileButton.tsx';
import { ChoiceField } from '../ui/controls/Field.tsx';
import { Panel } from '../ui/Panel.tsx';
import { Working } from '../ui/Working.tsx';
import { ImportResult } from './ImportResult.tsx';
import { FileMapper } from './mapper/FileMapper.tsx';
import { useFileImport } from './use-file-import.ts';

/** Imports files: a data package, a CSV with its setup and trials beside it, or a file of another logger, which is mapped first. */
export function ImportDrop() {
  const [isOver, setOver] = useState(false);
  const imports = useFileImport();
  const progress = useFeed('files.progress', imports.busy ? {} : undefined);
  const { data: burners } = useHostQuery('burners.list', {});
  const [first] = imports.waiting;
  const drop = useRef<HTMLDivElement>(null);
  const wasWaiting = useRef(false);
  // The focus returns to where the files came from.
  useEffect(() => {
    if (wasWaiting.current && !first) drop.current?.querySelector('button')?.focus();
    wasWaiting.current = first !== undefined;
  }, [first]);

  return (
    <>
      <Panel name="Import files">
        <div
          ref={drop}
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
            void imports.importFiles(event.dataTransfer.files);
          }}
        >
          <FileButton
            label="Choose files"
            name="Files to import"
            accept=".csv,.zip,.json,.txt,.tsv,.log,.asc,.dat"
            multiple
            disabled={imports.busy}
            onChoose={(files) => void imports.importFiles(files)}
          />
          <p className="drop-help">
            or drop them here: a data package (.zip), a CSV file with its .setup.json and .trials.csv files, or the text
            file of another logger
          </p>
          {burners && burners.length > 0 && (
            <ChoiceField
              name="Belongs to"
              value={imports.burnerId}
              choices={[
                { value: '', label: 'As named in the files' },
                ...burners.map(({ id, site, name }) => ({ value: id, label: [site, name].filter(Boolean).join(', ') })),
              ]}
              onChange={imports.setBurnerId}
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
        <ImportResult done={imports.done} fault={imports.fault} />
      </Panel>
      {first && (
        <FileMapper
          key={first.key}
          file={first}
          further={imports.waiting.length - 1}
          busy={imports.busy}
          onImport={(mapping) => void imports.importMapped(first, mapping)}
          onCancel={() => imports.leaveOut(first)}
        />
      )}
    </>
  );
}
