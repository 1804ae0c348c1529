/** One file's import of another, both as paths from the project's root (`src/drying/estimate.ts`). */
export interface Import {
  readonly from: string;
  readonly to: string;
}

/** A folder's own files as one room beside its sub-folders: what they share with a sub-folder may go one way only. */
export const OWN_FILES = 'its own files';

/** Rooms of one folder that import each other in a circle, with the imports that make it. */
export interface FolderCircle {
  readonly folder: string;
  readonly rooms: readonly string[];
  readonly imports: readonly Import[];
}

/** The folder in which the two files part, and the room of each in it; undefined when both are its own files. */
function partOf({ from, to }: Import) {
  const a = from.split('/');
  const b = to.split('/');
  let depth = 0;
  while (a[depth] === b[depth] && depth < a.length - 1 && depth < b.length - 1) depth += 1;
  const roomOf = (path: readonly string[]) => (depth < path.length - 1 ? (path[depth] as string) : OWN_FILES);
  const [importer, imported] = [roomOf(a), roomOf(b)];
  return importer === imported ? undefined : { folder: a.slice(0, depth).join('/'), importer, imported };
}

/** Rooms by folder: who imports whom directly, and by which imports. */
export function roomEdges(imports: readonly Import[]): Map<string, Map<string, Map<string, Import[]>>> {
  const folders = new Map<string, Map<string, Map<string, Import[]>>>();
  for (const one of imports) {
    const part = partOf(one);
    if (part === undefined) continue;
    const rooms = folders.get(part.folder) ?? new Map<string, Map<string, Import[]>>();
    folders.set(part.folder, rooms);
    const targets = rooms.get(part.importer) ?? new Map<string, Import[]>();
    rooms.set(part.importer, targets);
    targets.set(part.imported, [...(targets.get(part.imported) ?? []), one]);
  }
  return folders;
}

/** Everything that can be reached from a room. */
function reached(rooms: ReadonlyMap<string, ReadonlyMap<string, unknown>>, start: string): Set<string> {
  const seen = new Set<string>();
  const open = [start];
  for (let here = open.pop(); here !== undefined; here = open.pop())
    for (const next of rooms.get(here)?.keys() ?? [])
      if (!seen.has(next)) {
        seen.add(next);
        open.push(next);
      }
  return seen;
}

/** All circles of folders at every depth, types counted like values. */
export function folderCircles(imports: readonly Import[]): FolderCircle[] {
  return [...roomEdges(imports)].flatMap(([folder, rooms]) => {
    const reach = new Map([...rooms.keys()].map((room) => [room, reached(rooms, room)]));
    const told = new Set<string>();
    return [...rooms.keys()].sort().flatMap((room) => {
      if (told.has(room) || reach.get(room)?.has(room) !== true) return [];
      const circle = [...rooms.keys()].filter(
        (other) => reach.get(room)?.has(other) && reach.get(other)?.has(room),
      );
      for (const other of circle) told.add(other);
      const between = circle.flatMap((a) => circle.flatMap((b) => rooms.get(a)?.get(b) ?? []));
      return [{ folder, rooms: circle.sort(), imports: between }];
    });
  });
}

/** Folders with more code files and sub-folders of code than this, and how many they have. */
export function fullFolders(files: readonly string[], most: number): { folder: string; entries: number }[] {
  const entries = new Map<string, Set<string>>();
  for (const file of files) {
    const path = file.split('/');
    for (let depth = 1; depth < path.length; depth += 1) {
      const folder = path.slice(0, depth).join('/');
      entries.set(folder, (entries.get(folder) ?? new Set()).add(path[depth] as string));
    }
  }
  return [...entries]
    .map(([folder, inIt]) => ({ folder, entries: inIt.size }))
    .filter((one) => one.entries > most);
}
