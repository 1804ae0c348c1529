import type { BoardHealth, ProbeReader } from '../../monitor/ports/ports.js';

/** Tells each state of a board once, when it came into it. */
export class BoardWords {
  private readonly told = new Map<string, string>();

  constructor(private readonly reader: ProbeReader) {}

  changes(): readonly BoardHealth[] {
    return this.reader.health().filter(({ boardId, state }) => {
      const isNew = this.told.get(boardId) !== state;
      this.told.set(boardId, state);
      return isNew;
    });
  }
}
