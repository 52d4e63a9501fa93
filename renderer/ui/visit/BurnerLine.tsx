import type { BurnerView } from '../../../shared/contract/api.ts';
import { useBurnerState } from '../../state/live/burner-state.ts';
import { Announce } from '../Notice.tsx';
import { StatusWord, type Tone } from '../StatusWord.tsx';
import type { ShapeName } from '../Shape.tsx';
import './BurnerLine.css';

const gasWords: Record<BurnerView['gas'], { word: string; shape: ShapeName }> = {
  shut: { word: 'Gas shut', shape: 'hollow-square' },
  opening: { word: 'Gas opening', shape: 'up' },
  flowing: { word: 'Gas flowing', shape: 'solid-square' },
  closing: { word: 'Gas closing', shape: 'down' },
  unknown: { word: 'Gas: unknown', shape: 'half-circle' },
};

const flameWords: Record<BurnerView['flame'], { word: string; shape: ShapeName; tone: Tone }> = {
  dark: { word: 'No flame', shape: 'hollow-circle', tone: 'plain' },
  lighting: { word: 'Lighting', shape: 'half-circle', tone: 'plain' },
  burning: { word: 'Flame steady', shape: 'check', tone: 'good' },
  unsteady: { word: 'Flame unsteady', shape: 'half-circle', tone: 'warning' },
  lost: { word: 'Flame lost', shape: 'cross', tone: 'bad' },
  out: { word: 'Flame out', shape: 'hollow-circle', tone: 'plain' },
  unknown: { word: 'Flame: unknown', shape: 'half-circle', tone: 'warning' },
};

/** What the burner does now, in two words: gas and flame. Nothing is shown before the host has said anything. */
export function BurnerLine() {
  const burner = useBurnerState();
  if (!burner) return null;
  const gas = gasWords[burner.gas];
  const flame = flameWords[burner.flame];
  return (
    <section className="burner-line" aria-label="Burner">
      <StatusWord tone={burner.gas === 'unknown' ? 'warning' : 'plain'} shape={gas.shape}>
        {gas.word}
      </StatusWord>
      <StatusWord tone={burner.alarm && flame.tone === 'good' ? 'plain' : flame.tone} shape={flame.shape}>
        {flame.word}
      </StatusWord>
      <Announce text={`${gas.word}. ${flame.word}.`} />
    </section>
  );
}
