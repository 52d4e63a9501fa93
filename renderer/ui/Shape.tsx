/** Small shapes beside a word, so that no state is shown by color alone. They take the color of the text. */
const drawings = {
  'solid-square': <rect x="4" y="4" width="16" height="16" />,
  'hollow-square': <rect x="5" y="5" width="14" height="14" fill="none" strokeWidth="2.5" />,
  'solid-circle': <circle cx="12" cy="12" r="8" />,
  'hollow-circle': <circle cx="12" cy="12" r="7" fill="none" strokeWidth="2.5" />,
  'half-circle': (
    <>
      <circle cx="12" cy="12" r="7" fill="none" strokeWidth="2.5" />
      <path d="M12 5a7 7 0 0 0 0 14z" />
    </>
  ),
  triangle: <path d="M12 3 22 21H2z" />,
  diamond: <path d="M12 2 20 12 12 22 4 12z" />,
  check: <path d="m4 13 5 5L20 6" fill="none" strokeWidth="3.5" />,
  cross: <path d="M5 5 19 19M19 5 5 19" fill="none" strokeWidth="3.5" />,
  up: <path d="M12 3 22 14H15V21H9V14H2z" />,
  down: <path d="M12 21 2 10H9V3h6v7h7z" />,
  left: <path d="M3 12 14 2v7h7v6h-7v7z" />,
  right: <path d="M21 12 10 22v-7H3V9h7V2z" />,
  'turn-in': (
    <>
      <path d="M12.5 4.5a7.5 7.5 0 1 1-7.5 7.5" fill="none" strokeWidth="3.2" />
      <path d="M5 4.5 10.2 13H-.2z" />
    </>
  ),
  'turn-out': (
    <g transform="matrix(-1 0 0 1 24 0)">
      <path d="M12.5 4.5a7.5 7.5 0 1 1-7.5 7.5" fill="none" strokeWidth="3.2" />
      <path d="M5 4.5 10.2 13H-.2z" />
    </g>
  ),
} as const;

export type ShapeName = keyof typeof drawings;

export function Shape({ name, size = 20 }: { name: ShapeName; size?: number }) {
  return (
    <svg
      width={size}
      height={size}
      viewBox="0 0 24 24"
      fill="currentColor"
      stroke="currentColor"
      strokeWidth="0"
      aria-hidden="true"
    >
      {drawings[name]}
    </svg>
  );
}
