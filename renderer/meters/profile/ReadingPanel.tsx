import { useState } from 'react';
import { hasCommaBetweenDigits } from '../../../shared/instruments/derive/line-tokens.ts';
import type { Unit } from '../../../shared/model/reading.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { Panel } from '../../ui/Panel.tsx';
import { Notice } from '../../ui/Notice.tsx';
import { StatusWord } from '../../ui/StatusWord.tsx';
import { lineWords } from '../profile-summary.ts';
import { ChannelFields } from './ChannelFields.tsx';
import { commaMeaning, pointAt, type LineReading } from './draft/make-profile.ts';
import { PointDialog } from './PointDialog.tsx';
import { PointLines } from './PointLines.tsx';
import type { ShownLine, ShownPart } from './draft/show-line.ts';
import { editorState, useEditor } from './draft/use-draft.ts';

/** The lines with the values read from them, and the channels that were pointed at. */
export function ReadingPanel({
  lines,
  reading,
  isLive,
}: {
  lines: ShownLine[];
  reading: LineReading | undefined;
  isLive: boolean;
}) {
  const { draft } = useEditor();
  const { change, setDraft, followPort } = editorState();
  const [selected, setSelected] = useState<{ line: string; part: ShownPart }>();
  const texts = lines.map(({ text }) => text);
  const comma = commaMeaning(draft, texts);
  const readCount = lines.filter(({ isRead }) => isRead).length;
  const freezeLines = () => {
    if (!isLive) return;
    change({ lines: texts });
    followPort(undefined);
  };

  return (
    <Panel name="Select the number">
      <div className="row">
        {reading && (
          <StatusWord tone={readCount === lines.length ? 'good' : 'warning'}>
            {readCount} of {lines.length} lines read
          </StatusWord>
        )}
        {reading && <span>Reads {lineWords[reading.line.format]}</span>}
        {isLive && <Button onClick={freezeLines}>Freeze the lines</Button>}
        {hasCommaBetweenDigits(texts) && (
          <Button
            aria-pressed={comma === 'decimal'}
            onClick={() => change({ comma: comma === 'decimal' ? 'separator' : 'decimal' })}
          >
            Decimal comma
          </Button>
        )}
      </div>
      {draft.pointed.length > 0 && !reading && (
        <Notice tone="warning" text="No single rule reads everything you selected. Remove one selection." />
      )}
      <PointLines
        lines={lines}
        onPoint={(line, part) => {
          freezeLines();
          setSelected({ line, part });
        }}
      />
      {reading?.channels.map(({ role, unit }) => (
        <ChannelFields key={role} role={role} unit={unit as Unit} />
      ))}
      {!reading &&
        [...new Map(draft.pointed.map((one) => [one.role, one.unit]))].map(([role, unit]) => (
          <ChannelFields key={role} role={role} unit={unit} />
        ))}
      <fieldset className="row" aria-label="Overload texts">
        <span>Overload:</span>
        {draft.overload.map((word) => (
          <Button
            key={word}
            aria-label={`Remove the overload text ${word}`}
            onClick={() => change({ overload: draft.overload.filter((one) => one !== word) })}
          >
            <code>{word}</code> ×
          </Button>
        ))}
      </fieldset>
      {selected && (
        <PointDialog
          {...selected}
          onClose={() => setSelected(undefined)}
          onRead={(role, unit) => {
            const { from, to, role: instead } = selected.part;
            setDraft(pointAt(editorState().draft, { line: selected.line, from, to, role, unit }, instead, texts));
            setSelected(undefined);
          }}
          onOverload={(word) => {
            change({ overload: [...new Set([...draft.overload, word])] });
            setSelected(undefined);
          }}
        />
      )}
    </Panel>
  );
}
