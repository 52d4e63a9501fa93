import type { BurnerView } from '../../../shared/contract/api.ts';
import { useBurnerState } from '../../state/live/burner-state.ts';
import { Announce } from '../Notice.tsx';
import { StatusWord } from '../StatusWord.tsx';
import type { ShapeName } from '../Shape.tsx';
import { flameWord } from './live-words.ts';
import './BurnerLine.css';

const gasWords: Record<BurnerView['gas'], { word: string; shape: ShapeName }> = {
  shut: { word: 'Gas shut', shape: 'hollow-square' },
  opening: { word: 'Gas opening', shape: 'up' },
  flowing: { word: 'Gas flowing', shape: 'solid-square' },
  closing: { word: 'Gas closing', shape: 'down' },
  unknown: { word: 'Gas: unknown', shape: 'half-circle' },
};

/**
 * What the burner does now, in two words: gas and flame. Nothing is shown before the host has said anything. `isBelowMinimum`: the signal
 * beside it is.
 */
export function BurnerLine({ isBelowMinimum }: { isBelowMinimum: boolean }) {
  const burner = useBurnerState();
  if (!burner) return null;
  const gas = gasWords[burner.gas];
  const flame = flameWord(burner, isBelowMinimum);
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
