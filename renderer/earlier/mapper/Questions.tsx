import { useId } from 'react';
import type { Mapping } from '../../../shared/model/logger/mapping.ts';
import type { MappingQuestion } from '../../../shared/model/logger/preview.ts';
import { visibleText } from '../../../shared/model/visible-text.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { Shape } from '../../ui/Shape.tsx';

/** More answers than this are a list to choose from. */
const mostButtons = 10;

/** What the data leave open, each with its answers; the import waits for all of them. */
export function Questions({
  questions,
  onAnswer,
}: {
  questions: MappingQuestion[];
  onAnswer: (mapping: Mapping) => void;
}) {
  return questions.map((question) => (
    <Question key={`${question.ask} ${question.why}`} question={question} onAnswer={onAnswer} />
  ));
}

function Question({
  question: { ask, why, choices },
  onAnswer,
}: {
  question: MappingQuestion;
  onAnswer: (mapping: Mapping) => void;
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
          onChange={(event) => onAnswer(choices[Number(event.target.value)]!.mapping)}
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
          {choices.map(({ label, mapping }) => (
            <Button key={label} onClick={() => onAnswer(mapping)}>
              {visibleText(label)}
            </Button>
          ))}
        </div>
      )}
    </fieldset>
  );
}
