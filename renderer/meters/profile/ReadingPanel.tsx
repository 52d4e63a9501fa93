import { useState } from 'react';
import { hasComma } from '../../../shared/instruments/line-parts.ts';
import type { Unit } from '../../../shared/model/reading.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { Panel } from '../../ui/Panel.tsx';
import { Notice } from '../../ui/Notice.tsx';
import { StatusWord } from '../../ui/StatusWord.tsx';
import { lineWords } from '../profile-summary.ts';
import { ChannelFields } from './ChannelFields.tsx';
import { commaOf, pointAt, type Way } from './draft/make-profile.ts';
import { PointDialog } from './PointDialog.tsx';
import { PointLines } from './PointLines.tsx';
import type { ShownLine, ShownPart } from './draft/show-line.ts';
import { editorState, useEditor } from './draft/use-draft.ts';

/** The lines with what is read of them, and the channels that were pointed at. */
export function ReadingPanel({ lines, way, isLive }: { lines: ShownLine[]; way: Way | undefined; isLive: boolean }) {
  const { draft } = useEditor();
  const { change, put, followPort } = editorState();
  const [asked, setAsked] = useState<{ line: string; part: ShownPart }>();
  const texts = lines.map(({ text }) => text);
  const comma = commaOf(draft, texts);
  const read = lines.filter(({ isRead }) => isRead).length;
  const hold = () => {
    if (!isLive) return;
    change({ lines: texts });
    followPort(undefined);
  };

  return (
    <Panel name="Point at the number">
      <div className="row">
        {way && (
          <StatusWord tone={read === lines.length ? 'good' : 'doubt'}>
            {read} of {lines.length} lines read
          </StatusWord>
        )}
        {way && <span>Reads {lineWords[way.line.format]}</span>}
        {isLive && <Button onClick={hold}>Hold the lines</Button>}
        {hasComma(texts) && (
          <Button
            aria-pressed={comma === 'decimal'}
            onClick={() => change({ comma: comma === 'decimal' ? 'separator' : 'decimal' })}
          >
            Comma is decimal
          </Button>
        )}
      </div>
      {draft.pointed.length > 0 && !way && (
        <Notice tone="doubt" text="No one way reads all that was pointed at. Take one of them away." />
      )}
      <PointLines
        lines={lines}
        onPoint={(line, part) => {
          hold();
          setAsked({ line, part });
        }}
      />
      {way?.channels.map(({ role, unit }) => (
        <ChannelFields key={role} role={role} unit={unit as Unit} />
      ))}
      {!way &&
        [...new Map(draft.pointed.map((one) => [one.role, one.unit]))].map(([role, unit]) => (
          <ChannelFields key={role} role={role} unit={unit} />
        ))}
      <fieldset className="row" aria-label="Words for overload">
        <span>Overload:</span>
        {draft.overload.map((word) => (
          <Button
            key={word}
            aria-label={`${word} no longer means overload`}
            onClick={() => change({ overload: draft.overload.filter((one) => one !== word) })}
          >
            <code>{word}</code> ×
          </Button>
        ))}
      </fieldset>
      {asked && (
        <PointDialog
          {...asked}
          onClose={() => setAsked(undefined)}
          onTake={(role, unit) => {
            const { from, to, role: instead } = asked.part;
            put(pointAt(editorState().draft, { line: asked.line, from, to, role, unit }, instead, texts));
            setAsked(undefined);
          }}
          onOverload={(word) => {
            change({ overload: [...new Set([...draft.overload, word])] });
            setAsked(undefined);
          }}
        />
      )}
    </Panel>
  );
}
