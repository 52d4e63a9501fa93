/** One trial of a sensitivity test: the stimulus, and whether there was a response. */
export interface Response {
  level: number;
  responded: boolean;
}

/** The next level of an up-and-down test: a step down after a response, up otherwise. Source: Dixon and Mood 1948, JASA 43, 109. */
export const nextUpAndDown = ({ level, responded }: Response, step: number): number =>
  responded ? level - step : level + step;
