import { useState } from 'react';
import type { MeterState } from '../../../shared/contract/api.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { FileButton } from '../../ui/controls/FileButton.tsx';
import { FieldFrame } from '../../ui/controls/Field.tsx';
import { Panel } from '../../ui/Panel.tsx';
import { linesOf, mostLines } from './draft/draft.ts';
import { editorState, useEditor } from './draft/use-draft.ts';

const mostText = 100_000;

/** Where lines to point at come from: a connected meter, a file, or pasted text. */
export function ReceivedLines({ meters }: { meters: readonly MeterState[] }) {
  const { follow, draft } = useEditor();
  const { change, followPort } = editorState();
  const [isPasting, setPasting] = useState(false);
  const take = (text: string) => {
    followPort(undefined);
    change({ lines: linesOf(text) });
  };
  const typed = isPasting || (meters.length === 0 && draft.lines.length === 0);
  return (
    <Panel name="Lines of the meter">
      <div className="row">
        {meters.map(({ port }) => (
          <Button key={port} aria-pressed={follow === port} onClick={() => followPort(port)}>
            From {port}
          </Button>
        ))}
        <Button aria-pressed={typed} onClick={() => setPasting(!isPasting)}>
          Paste lines
        </Button>
        <FileButton
          label="Open text file"
          name="Text file with lines"
          accept=".txt,.log,.csv,text/*"
          onChoose={([file]) => void file?.slice(0, mostText).text().then(take)}
        />
      </div>
      {typed && (
        <FieldFrame
          name="Lines as they come"
          help={`Paste a few lines here, one under the other. The first ${mostLines} are taken.`}
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
                // A browser takes minutes to put in a long file that would be cut to a few lines anyway.
                const text = event.clipboardData.getData('text');
                if (text.split('\n', mostLines + 1).length <= mostLines) return;
                event.preventDefault();
                setPasting(true);
                take(text.slice(0, mostText));
              }}
              onChange={(event) => {
                setPasting(true);
                followPort(undefined);
                change({ lines: event.target.value.split('\n').slice(0, mostLines) });
              }}
            />
          )}
        </FieldFrame>
      )}
    </Panel>
  );
}
