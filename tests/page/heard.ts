import type { Page } from 'playwright-core';

/** One thing that a reader says, in its order. */
export interface Heard {
  readonly role: string;
  readonly name: string;
}

/** What only groups or repeats others: its text is said by what it stands in. */
const SILENT = new Set(['none', 'generic', 'InlineTextBox', 'LineBreak', 'ListMarker', 'RootWebArea']);

/** The page as Chromium hands it to a screen reader, from top to bottom. */
export async function heard(tab: Page): Promise<readonly Heard[]> {
  const session = await tab.context().newCDPSession(tab);
  const { nodes } = await session.send('Accessibility.getFullAXTree');
  await session.detach();
  const byId = new Map(nodes.map((node) => [node.nodeId, node]));
  const said: Heard[] = [];
  const follow = (node: (typeof nodes)[number] | undefined): void => {
    if (node === undefined) return;
    const role = String(node.role?.value ?? '');
    if (!node.ignored && !SILENT.has(role)) said.push({ role, name: String(node.name?.value ?? '').trim() });
    if (role !== 'StaticText') for (const child of node.childIds ?? []) follow(byId.get(child));
  };
  follow(nodes[0]);
  return said;
}
