import { useBurnerState } from '../../state/live/burner-state.ts';
import { Announce } from '../Notice.tsx';
import { StatusWord } from '../StatusWord.tsx';
import { flameWord, gasWord } from './live-words.ts';
import './BurnerLine.css';

/**
 * What the burner does now, in two words: gas and flame. Nothing is shown before the host has said anything. `isBelowMinimum`: the signal
 * beside it is.
 */
export function BurnerLine({ isBelowMinimum }: { isBelowMinimum: boolean }) {
  const burner = useBurnerState();
  if (!burner) return null;
  const gas = gasWord(burner);
  const flame = flameWord(burner, isBelowMinimum);
  return (
    <section className="burner-line" aria-label="Burner">
      <StatusWord tone={gas.tone} shape={gas.shape}>
        {gas.word}
      </StatusWord>
      <StatusWord tone={burner.alarm && flame.tone === 'good' ? 'plain' : flame.tone} shape={flame.shape}>
        {flame.word}
      </StatusWord>
      <Announce text={`${sentence(gas.word)} ${sentence(flame.word)}`} />
    </section>
  );
}

/** With a full stop, where the words are no question. */
const sentence = (words: string) => (words.endsWith('?') ? words : `${words}.`);
