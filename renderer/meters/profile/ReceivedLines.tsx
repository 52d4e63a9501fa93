import { useState } from 'react';
import type { MeterState } from '../../../shared/contract/api.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { FileButton } from '../../ui/controls/FileButton.tsx';
import { FieldFrame } from '../../ui/controls/Field.tsx';
import { Panel } from '../../ui/Panel.tsx';
import { linesOf, maxLines } from './draft/draft.ts';
import { editorState, useEditor } from './draft/use-draft.ts';

const maxTextLength = 100_000;

/** Chooses the source of the lines to point at: a connected meter, a file, or pasted text. */
export function ReceivedLines({ meters }: { meters: readonly MeterState[] }) {
  const { follow, draft } = useEditor();
  const { change, followPort } = editorState();
  const [isPasting, setPasting] = useState(false);
  const setLines = (text: string) => {
    followPort(undefined);
    change({ lines: linesOf(text) });
  };
  const showsField = isPasting || (meters.length === 0 && draft.lines.length === 0);
  return (
    <Panel name="Lines from the meter">
      <div className="row">
        {meters.map(({ port }) => (
          <Button key={port} aria-pressed={follow === port} onClick={() => followPort(port)}>
            From {port}
          </Button>
        ))}
        <Button aria-pressed={showsField} onClick={() => setPasting(!isPasting)}>
          Paste lines
        </Button>
        <FileButton
          label="Open text file"
          name="Text file with lines"
          accept=".txt,.log,.csv,text/*"
          onChoose={([file]) => void file?.slice(0, maxTextLength).text().then(setLines)}
        />
      </div>
      {showsField && (
        <FieldFrame
          name="Lines as received"
          help={`Paste a few lines here, one per row. Only the first ${maxLines} are used.`}
        >
          {({ input, describedBy }) => (
            <textarea
              id={input}
              className="raw-lines"
              rows={4}
              spellCheck={false}
              aria-describedby={describedBy}
              value={draft.lines.join('\n')}
              onPaste={(event) => {
                // Pasting a long file takes the browser minutes, and only a few lines of it are used.
                const text = event.clipboardData.getData('text');
                if (text.split('\n', maxLines + 1).length <= maxLines) return;
                event.preventDefault();
                setPasting(true);
                setLines(text.slice(0, maxTextLength));
              }}
              onChange={(event) => {
                setPasting(true);
                followPort(undefined);
                change({ lines: event.target.value.split('\n').slice(0, maxLines) });
              }}
            />
          )}
        </FieldFrame>
      )}
    </Panel>
  );
}
