import type { Component } from './component.js';

export type CardKind = 'moisture' | 'air' | 'light' | 'weight' | 'call' | 'power' | 'multiplexer';

/** A resistor and a probe in series between supply and ground, drawn inside a card. */
export interface Divider {
  readonly upper: string;
  readonly lower: string;
}

/** One thing to be wired, other than the board. */
export interface Card {
  readonly id: string;
  readonly kind: CardKind;
  readonly title: string;
  readonly subtitle: string;
  readonly terminals: readonly Terminal[];
  /** What stands in the enclosure for it. */
  readonly components: readonly Component[];
  readonly divider?: Divider;
  readonly note?: string;
  /** The multiplexer that it hangs on, for those that do not hang on the board itself. */
  readonly behind?: string;
}

export interface Terminal {
  readonly name: string;
  /** Wires with one net are joined: "GND", "5V", "PWR", "SDA", "SCL", or a signal of its own. */
  readonly net: string;
  /** The point inside the enclosure where its lead begins, when a component lies between net and lead. */
  readonly behindNode?: string;
  /** Length of the cable to the part, metres; absent: it stands in the enclosure. */
  readonly cableM?: number;
  /** The longest cable that was computed to work, metres. */
  readonly longestM?: number;
}
