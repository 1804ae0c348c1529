import type { PagePresent } from '../../../../shared/page-present.js';
import type { ViewName } from './views.js';

export function ReviewView(_props: {
  readonly view: ViewName;
  readonly detail: string | undefined;
  readonly present: PagePresent;
}) {
  return null;
}
