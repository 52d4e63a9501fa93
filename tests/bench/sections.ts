import { honesty } from './honesty/honesty.ts';
import type { Section } from './section.ts';

/** Every part of the benchmark, in the order in which they run. */
export const sections: Section[] = [honesty];
