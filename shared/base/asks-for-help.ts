const ASKING: ReadonlySet<string> = new Set(['unacknowledged', 'acknowledged']);

/** True while an alarm wants somebody to look, or somebody is looking; in its other states it is over, or set aside by people. */
export const asksForHelp = ({ state }: { readonly state: string }): boolean => ASKING.has(state);
