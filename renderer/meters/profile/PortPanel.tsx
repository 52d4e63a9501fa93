import { Button } from '../../ui/controls/Button.tsx';
import { ChoiceField, TextField } from '../../ui/controls/Field.tsx';
import { Panel } from '../../ui/Panel.tsx';
import { NumberField } from './ChannelFields.tsx';
import { editorState, useEditor } from './draft/use-draft.ts';

const choicesOf = <T extends string>(...values: T[]) => values.map((value) => ({ value, label: value }));
const parities = [
  { value: 'none', label: 'None' },
  { value: 'even', label: 'Even' },
  { value: 'odd', label: 'Odd' },
] as const;
// The usual baud rates; any other can be typed.
const rates = ['1200', '2400', '4800', '9600', '19200', '38400', '57600', '115200'];

/** How the port is opened, and what is sent to it, if anything. */
export function PortPanel() {
  const { draft } = useEditor();
  const { change } = editorState();
  const isRegister = draft.kind === 'registers';
  const isPolled = isRegister || draft.mode === 'poll';
  return (
    <Panel name="Port">
      <div className="field-row">
        <TextField
          name="Baud rate"
          value={draft.baudRate}
          suggestions={rates}
          onChange={(baudRate) => change({ baudRate })}
        />
        <ChoiceField
          name="Data bits"
          value={draft.dataBits}
          choices={choicesOf('8', '7')}
          onChange={(dataBits) => change({ dataBits })}
        />
        <ChoiceField name="Parity" value={draft.parity} choices={parities} onChange={(parity) => change({ parity })} />
        <ChoiceField
          name="Stop bits"
          value={draft.stopBits}
          choices={choicesOf('1', '2')}
          onChange={(stopBits) => change({ stopBits })}
        />
      </div>
      {!isRegister && (
        <fieldset className="row" aria-label="How the meter sends">
          <Button aria-pressed={!isPolled} onClick={() => change({ mode: 'stream' })}>
            Meter sends continuously
          </Button>
          <Button aria-pressed={isPolled} onClick={() => change({ mode: 'poll' })}>
            Meter is polled
          </Button>
        </fieldset>
      )}
      {isPolled && (
        <div className="field-row">
          {!isRegister && (
            <TextField
              name="Poll text"
              value={draft.pollSend}
              help={String.raw`\n is a line feed, \r a carriage return`}
              onChange={(pollSend) => change({ pollSend })}
            />
          )}
          <NumberField
            name="Poll every"
            value={draft.pollEvery}
            unit="ms"
            onChange={(pollEvery) => change({ pollEvery })}
          />
        </div>
      )}
      <p>
        {isRegister
          ? 'Only the request to read this register is ever written to the port.'
          : isPolled
            ? 'Only this text is ever written to the port.'
            : 'Nothing is ever written to the port.'}
      </p>
    </Panel>
  );
}
