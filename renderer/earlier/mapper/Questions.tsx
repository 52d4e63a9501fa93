import { useId } from 'react';
import type { MappingQuestion } from '../../../shared/model/logger/preview.ts';
import { visibleText } from '../../../shared/model/visible-text.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { Shape } from '../../ui/Shape.tsx';
import type { MappingChange } from './use-mapping-preview.ts';

/** More answers than this are a list to choose from. */
const mostButtons = 10;

/** What the data leave open, each with its answers; the import waits for all of them. */
export function Questions({
  questions,
  onAnswer,
}: {
  questions: MappingQuestion[];
  onAnswer: (change: MappingChange) => void;
}) {
  return questions.map((question) => (
    <Question key={`${question.ask} ${question.why}`} question={question} onAnswer={onAnswer} />
  ));
}

/** The answer of that label to that question, where it is still asked. */
const answer =
  (ask: string, label: string): MappingChange =>
  ({ questions }) =>
    questions.find((question) => question.ask === ask)?.choices.find((choice) => choice.label === label)?.mapping;

function Question({
  question: { ask, why, choices },
  onAnswer,
}: {
  question: MappingQuestion;
  onAnswer: (change: MappingChange) => void;
}) {
  const askId = useId();
  const whyId = useId();
  return (
    <fieldset className="question" aria-labelledby={askId} aria-describedby={why && whyId}>
      <h3 id={askId}>
        <Shape name="half-circle" />
        <span>{visibleText(ask)}</span>
      </h3>
      {why !== undefined && <p id={whyId}>{visibleText(why)}</p>}
      {choices.length > mostButtons ? (
        <select
          className="input"
          aria-labelledby={askId}
          value=""
          onChange={(event) => onAnswer(answer(ask, choices[Number(event.target.value)]!.label))}
        >
          <option value="">Choose</option>
          {choices.map(({ label }, index) => (
            <option key={label} value={index}>
              {visibleText(label)}
            </option>
          ))}
        </select>
      ) : (
        <div className="row">
          {choices.map(({ label }) => (
            <Button key={label} onClick={() => onAnswer(answer(ask, label))}>
              {visibleText(label)}
            </Button>
          ))}
        </div>
      )}
    </fieldset>
  );
}
