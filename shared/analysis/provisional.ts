import type { Study } from './study.ts';

/** What keeps a set point from being final, gravest first, as the end of "because ..."; empty where nothing does. */
export function provisionalReasons({ unclearS, window }: Pick<Study, 'unclearS' | 'window'>): string[] {
  const isOpen = window.low?.cause === 'tested-end' || window.high?.cause === 'tested-end';
  return [
    ...(unclearS.length > 0 ? ['it is not known whether the valve shut or the flame was lost'] : []),
    ...(isOpen ? ['one end of the window was not found'] : []),
  ];
}
