import type { Capture } from '../../../shared/model/capture.ts';

/** A file name without extension that identifies the visit: "2026-11-25-boiler-2". */
export function fileStem(capture: Pick<Capture, 'id' | 'startedAt' | 'burner'>): string {
  const day = capture.startedAt?.slice(0, 10);
  const name = [day, capture.burner?.site, capture.burner?.name].filter(Boolean).join(' ');
  const plain = name
    .normalize('NFKD')
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-+|-+$/g, '')
    .slice(0, 80);
  return plain === '' ? `capture-${capture.id.slice(0, 8)}` : plain;
}
