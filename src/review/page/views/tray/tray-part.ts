import type { PagePresent, PageTray } from '../../../../../shared/page/page-present.js';

/** What each part of a tray's sheet stands on. */
export interface TrayPartProps {
  readonly present: PagePresent;
  readonly tray: PageTray;
  /** Something was told: the sheet may go. */
  readonly onDone: () => void;
}
