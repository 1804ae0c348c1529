import type { FarmConfig } from '../../../../shared/config/farm.js';
import type { HousesAnswer } from '../../../../shared/page/page-houses.js';
import type { Phones } from '../../../monitor/ports/phones.js';
import type { ReviewQueries } from '../../../monitor/ports/ports.js';
import type { PageFeed } from '../../feed/page-feed.js';
import type { PhotoShelf } from '../../photos/photo-shelf.js';
import type { AccessWord } from '../http/access-word.js';
import type { FarmPainter } from '../live/farm-picture.js';
import type { LiveTeller } from '../live/live-teller.js';
import type { PageFile } from './page-files.js';
import type { Vitals } from './watch-answers.js';

/** Everything that an answer may need. */
export interface House {
  readonly config: FarmConfig;
  readonly queries: ReviewQueries;
  readonly live: PageFeed;
  /** Those that are called by push; absent where nobody is. */
  readonly phones: Phones | undefined;
  /** Photos of notes; absent where none are kept. */
  readonly photos: PhotoShelf | undefined;
  /** All houses of the farm; absent where it has but this one. */
  readonly houses: (() => HousesAnswer) | undefined;
  readonly vitals: () => Vitals | undefined;
  readonly painter: FarmPainter;
  readonly teller: LiveTeller;
  readonly files: ReadonlyMap<string, PageFile>;
  readonly word: AccessWord;
  readonly names: ReadonlySet<string>;
}
