declare module 'aedes-persistence-level' {
  import type { Level } from 'level';
  /** Persistence of an aedes broker in a level database. */
  export default function aedesPersistenceLevel(level: Level): unknown;
}
