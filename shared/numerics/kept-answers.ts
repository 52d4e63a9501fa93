/** A pure function that keeps its last answers. */
export interface Kept<Input, Answer> {
  (input: Input): Answer;
  /** Drops what is kept, so that the next answer is computed anew. */
  forget: () => void;
}

/**
 * Keeps the last answers of a pure function, with what they were computed from; an input with the same content gets the kept answer.
 * Inputs and answers must not be changed afterwards. An input with a function in it is the same only where the function itself is.
 *
 * @param most  how many answers are kept
 */
export function keepLast<Input, Answer>(most: number, compute: (input: Input) => Answer): Kept<Input, Answer> {
  let kept: { input: Input; answer: Answer }[] = [];
  const answerTo = (input: Input): Answer => {
    const known = kept.find((each) => isSame(each.input, input)) ?? { input, answer: compute(input) };
    kept = [known, ...kept.filter((each) => each !== known)].slice(0, most);
    return known.answer;
  };
  return Object.assign(answerTo, { forget: () => void (kept = []) });
}

type Numbers = Float64Array | Uint8Array;
const isNumbers = (value: unknown): value is Numbers => value instanceof Float64Array || value instanceof Uint8Array;

/** Arrays and plain objects; of anything else it is not known what it holds. */
const isPlain = (value: unknown): value is Record<string, unknown> =>
  Array.isArray(value) ||
  (typeof value === 'object' && value !== null && Object.getPrototypeOf(value) === Object.prototype);

/** Whether two values hold the same, to the last digit and the sign of a zero. */
function isSame(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (isNumbers(a) && isNumbers(b)) return a.constructor === b.constructor && isSameNumbers(a, b);
  if (!isPlain(a) || !isPlain(b) || Array.isArray(a) !== Array.isArray(b)) return false;
  const keys = Object.keys(a);
  return keys.length === Object.keys(b).length && keys.every((key) => Object.hasOwn(b, key) && isSame(a[key], b[key]));
}

function isSameNumbers(a: Numbers, b: Numbers): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i += 1) if (!Object.is(a[i], b[i])) return false;
  return true;
}
