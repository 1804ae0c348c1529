import { type Import, roomEdges } from './tree.js';

/** A room as it is drawn: its name, and what it holds in a line. */
export interface DrawnRoom {
  readonly name: string;
  readonly holds: string;
}

/** What each room imports directly. */
function importsOf(imports: readonly Import[]): Map<string, Set<string>> {
  const rooms = new Map<string, Set<string>>();
  for (const [folder, edges] of roomEdges(imports)) {
    if (folder !== '' && folder !== 'src') continue;
    for (const [from, targets] of edges)
      for (const used of [...targets.values()].flat())
        if (folder === 'src')
          rooms.set(from, (rooms.get(from) ?? new Set()).add(used.to.split('/')[1] as string));
        else if (used.from.startsWith('src/')) {
          const importer = used.from.split('/')[1] as string;
          rooms.set(importer, (rooms.get(importer) ?? new Set()).add('shared'));
        }
  }
  return rooms;
}

/**
 * The rooms in storeys, the innermost at the foot: each imports only rooms of storeys below its own. Behind each what it
 * holds, and its imports but for those that a room it imports has already.
 */
export function drawRooms(rooms: readonly DrawnRoom[], imports: readonly Import[]): string {
  const uses = importsOf(imports);
  const storeys = new Map<string, number>();
  const storeyOf = (room: string): number => {
    const known = storeys.get(room);
    if (known !== undefined) return known;
    const storey = Math.max(-1, ...[...(uses.get(room) ?? [])].map(storeyOf)) + 1;
    storeys.set(room, storey);
    return storey;
  };
  const below = (room: string): Set<string> =>
    new Set([...(uses.get(room) ?? [])].flatMap((used) => [used, ...below(used)]));
  const direct = (room: string): string[] => {
    const own = [...(uses.get(room) ?? [])];
    return own.filter((one) => !own.some((other) => below(other).has(one))).sort();
  };
  const width = Math.max(...rooms.map(({ name }) => name.length));
  const ordered = [...rooms].sort(
    (a, b) => storeyOf(b.name) - storeyOf(a.name) || a.name.localeCompare(b.name),
  );
  const lines = ordered.map((room, index) => {
    const above = ordered[index - 1];
    const first = above === undefined || storeyOf(above.name) !== storeyOf(room.name);
    const used = direct(room.name);
    const line = `${first ? String(storeyOf(room.name)) : ' '}  ${room.name.padEnd(width)}  ${room.holds}`;
    return used.length === 0 ? line : `${line}\n   ${' '.repeat(width)}  imports ${used.join(', ')}`;
  });
  return `${lines.join('\n')}\n`;
}
