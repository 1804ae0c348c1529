import { applyEdits, findNodeAtLocation, modify, parseTree } from 'jsonc-parser';
import { jsonLine } from './write-config.js';

/** A value to be set in a configuration; undefined takes it out. */
export interface ConfigChange {
  readonly path: readonly (string | number)[];
  readonly value: unknown;
}

/** What goes before a new entry: keys of the farm and items of its lists get lines of their own. */
function gapBefore(path: ConfigChange['path']): string {
  if (path.length === 1) return '\n  ';
  return typeof path.at(-1) === 'number' ? '\n    ' : ' ';
}

/** An entry that was not there: the library gives where it goes and whether a comma goes before, we write as people do. */
function newEntry({ path, value }: ConfigChange, content: string): string {
  const key = path.at(-1);
  const name = typeof key === 'string' ? `${JSON.stringify(key)}: ` : '';
  return `${content.startsWith(',') ? ',' : ''}${gapBefore(path)}${name}${jsonLine(value)}`;
}

/** Text of a configuration with values set; comments, order and layout of the rest stay as they are. */
export function withChanges(text: string, changes: readonly ConfigChange[]): string {
  return changes.reduce((edited, change) => {
    const path = [...change.path];
    const root = parseTree(edited, [], { allowTrailingComma: true });
    const isThere = root !== undefined && findNodeAtLocation(root, path) !== undefined;
    if (change.value === undefined)
      return isThere ? applyEdits(edited, modify(edited, path, undefined, {})) : edited;
    const edits = modify(edited, path, change.value, {}).map((edit) => ({
      ...edit,
      content: isThere ? jsonLine(change.value) : newEntry(change, edit.content),
    }));
    return applyEdits(edited, edits);
  }, text);
}
