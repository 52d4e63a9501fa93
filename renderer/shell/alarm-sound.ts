import { useEffect } from 'react';
import { createAlarmTones } from './alarm-tones.ts';

const tones = createAlarmTones(() => new AudioContext());
for (const event of ['pointerdown', 'keydown'] as const) window.addEventListener(event, tones.unlock);

/** Sounds the alarm while `on`, until it is over or muted. */
export function useAlarmSound(on: boolean): void {
  useEffect(() => (on ? tones.begin() : undefined), [on]);
}
