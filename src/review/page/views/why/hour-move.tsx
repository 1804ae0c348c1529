interface HourMoveProps {
  readonly fromH: number;
  readonly toH: number;
  /** What the whole width stands for, h. */
  readonly wideH: number;
}

/** A ring where it would stand, a drop where it stands, and the way between. Decoration: the same stands in words beside it. */
export function HourMove({ fromH, toH, wideH }: HourMoveProps) {
  const at = (hours: number): number => Math.min(1, hours / wideH) * 100;
  const [from, to] = [at(fromH), at(toH)];
  return (
    <span class="hour-move" aria-hidden="true">
      <i class="hour-way" style={{ left: `${Math.min(from, to)}%`, width: `${Math.abs(to - from)}%` }} />
      <i class="hour-ring" style={{ left: `${from}%` }} />
      <i class="hour-drop" style={{ left: `${to}%` }} />
    </span>
  );
}
