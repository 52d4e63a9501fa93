import { useState } from 'react';
import type { PracticeState } from '../../shared/contract/api.ts';
import { settingLimits } from '../../shared/practice/control.ts';
import { ChoiceField, FieldFrame } from '../ui/controls/Field.tsx';
import { act } from './act.ts';

const names = {
  prepurgeS: 'Prepurge',
  trialS: 'Trial for ignition',
  sparkDelayS: 'Spark after gas',
  flameFailureS: 'Flame failure response',
  postpurgeS: 'Postpurge',
} as const;

const onFlameFailure = [
  { value: 'lockout', label: 'Lockout' },
  { value: 'recycle', label: 'Recycle' },
] as const;

/** How the control of the practice burner is set: its times, and what follows a lost flame. */
export function ControlSettings({ settings }: { settings: PracticeState['settings'] }) {
  return (
    <details>
      <summary>Settings of the control</summary>
      <div className="stack">
        {(Object.keys(names) as (keyof typeof names)[]).map((key) => (
          <SecondsField
            key={key}
            name={names[key]}
            seconds={settings[key]}
            limits={settingLimits[key]}
            set={(seconds) => act({ settings: { [key]: seconds } })}
          />
        ))}
        <ChoiceField
          name="After a lost flame"
          value={settings.onFlameFailure}
          choices={onFlameFailure}
          onChange={(next) => act({ settings: { onFlameFailure: next } })}
        />
      </div>
    </details>
  );
}

/** Seconds as typed; the bench takes them when the field is left, or Enter is pressed. */
function SecondsField({
  name,
  seconds,
  limits: [least, most],
  set,
}: {
  name: string;
  seconds: number;
  limits: readonly [number, number];
  set: (seconds: number) => void;
}) {
  // undefined: nothing is being typed, and the field shows what the bench has.
  const [typed, setTyped] = useState<string>();
  const isFit = typed === undefined || (typed.trim() !== '' && Number(typed) >= least && Number(typed) <= most);
  const take = () => {
    if (typed !== undefined && isFit) set(Number(typed));
    setTyped(undefined);
  };
  return (
    <FieldFrame name={name} problem={isFit ? undefined : `From ${least} to ${most} s.`}>
      {({ input, describedBy }) => (
        <>
          <input
            id={input}
            inputMode="decimal"
            value={typed ?? String(seconds)}
            aria-describedby={describedBy}
            aria-invalid={!isFit}
            onChange={(event) => setTyped(event.target.value)}
            onBlur={take}
            onKeyDown={(event) => event.key === 'Enter' && take()}
          />
          <span className="unit-fixed">s</span>
        </>
      )}
    </FieldFrame>
  );
}
