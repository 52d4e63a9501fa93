import { burnerState } from './burner-state/burner-state.ts';
import { long } from './capture/long.ts';
import { steady } from './capture/steady.ts';
import { throughput } from './capture/throughput.ts';
import { comparison } from './comparison/comparison.ts';
import { coverage } from './coverage/coverage.ts';
import { lightOff } from './light-off/light-off.ts';
import { lines } from './lines.ts';
import { list } from './list.ts';
import { losses } from './losses/losses.ts';
import { scale } from './scale.ts';
import { meters } from './meters/meters.ts';
import { screen } from './screen/screen.ts';
import type { Section } from './section.ts';
import { speed } from './speed/speed.ts';
import { wild } from './wild/wild.ts';
import { visitAnswers } from './visit-answers/visit-answers.ts';

/** Every part of the benchmark, in the order in which they run: times are measured before the machine is warm with work. */
export const sections: Section[] = [
  speed,
  scale,
  lines,
  list,
  throughput,
  steady,
  long,
  screen,
  coverage,
  wild,
  comparison,
  burnerState,
  visitAnswers,
  losses,
  meters,
  lightOff,
];
