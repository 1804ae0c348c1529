const SHAPES = {
  now: 'M4 10h13v11H4zM4 10l4-4h13l-4 4M21 6v11l-4 4M11 6c0-3-2-4-4-4 0 2 1 4 4 4zm0 0c0-2 1-3 4-3 0 2-2 3-4 3z',
  curves: 'M3 3v18h18M4 6c4 0 5 9 9 11 2 1 4 1 7 1M13 6c0 4 2 8 7 9',
  water: 'M4 10h11v10H4zM15 12l6-4M19.5 6l3 3.5M6 10c0-7 7-7 7 0',
  probes: 'M12 2v5M9 7h6v3l-1 9-2 3-2-3-1-9zM5 13H2M22 13h-3M9.6 13h4.8',
  journal: 'M5 3h13v18H5zM9 3v18M12 8h4M12 12h4',
  bell: 'M12 3c-4 0-6 3-6 7 0 5-2 6-2 7h16c0-1-2-2-2-7 0-4-2-7-6-7zM10 20a2 2 0 004 0',
  drop: 'M12 3c4 5 6 8 6 11a6 6 0 01-12 0c0-3 2-6 6-11z',
  check: 'M4 13l5 5L20 6',
  close: 'M5 5l14 14M19 5L5 19',
  undo: 'M9 5L4 10l5 5M4 10h10a5 5 0 010 10h-3',
  plus: 'M12 4v16M4 12h16',
  more: 'M5 9l7 7 7-7',
  phone: 'M7 2h10v20H7zM7 18h10M11 20h2',
  sleep: 'M12 3a9 9 0 109 9M12 7v5l3 2M15 3h6l-6 6h6',
  why: 'M12 3v7c0 4-6 4-7 11M12 10v11M12 10c0 4 6 4 7 11M9 5c1 2 5 2 6 0',
  eye: 'M2 12c4-7 16-7 20 0-4 7-16 7-20 0zM12 9a3 3 0 100 6 3 3 0 000-6z',
} as const;

export type IconName = keyof typeof SHAPES;

/** A line drawing beside a word; never alone. */
export function Icon({ name }: { readonly name: IconName }) {
  return (
    <svg class={`icon icon-${name}`} viewBox="0 0 24 24" aria-hidden="true">
      <path d={SHAPES[name]} />
    </svg>
  );
}
