import { useState } from 'preact/hooks';
import { useHouse } from '../../house/house.js';
import type { Texts } from '../../texts/texts.js';
import { NoteForm } from '../notes/note-form.js';
import { AttachForm, EndForm, MoveForm, WeighForm } from './life-forms.js';
import { PotOnForm } from './pot-on-form.js';
import type { TrayPartProps } from './tray-part.js';

type Asked = 'weigh' | 'move' | 'potOn' | 'attach' | 'note' | 'end';
const ASKED: readonly Asked[] = ['weigh', 'move', 'potOn', 'attach', 'note', 'end'];

/** Sown, germinated, weighed, moved, potted on, ended. What needs a word more opens below its button. */
export function LifePart(props: TrayPartProps) {
  const { tray, onDone } = props;
  const { texts, teller } = useHouse();
  const [asked, setAsked] = useState<Asked | undefined>(undefined);
  return (
    <section>
      <h3>{texts.tray.lifeTitle}</h3>
      <div class="choices">
        {tray.sownAt === undefined && (
          <button
            type="button"
            class="press"
            onClick={() => {
              void teller.tell({ do: 'sown', tray: tray.id }, texts.tray.sownLabel(tray.id));
              onDone();
            }}
          >
            {texts.tray.sown}
          </button>
        )}
        {tray.germinatedAt === undefined && (
          <button
            type="button"
            class="press"
            onClick={() => {
              void teller.tell({ do: 'germinated', tray: tray.id }, texts.tray.germinatedLabel(tray.id));
              onDone();
            }}
          >
            {texts.tray.germinated}
          </button>
        )}
        {ASKED.map((one) => (
          <button
            key={one}
            type="button"
            class="press"
            aria-expanded={asked === one}
            onClick={() => setAsked(asked === one ? undefined : one)}
          >
            {askedWord(one, texts)}
          </button>
        ))}
      </div>
      {asked !== undefined && <AskedForm asked={asked} {...props} />}
    </section>
  );
}

function askedWord(asked: Asked, { tray }: Texts): string {
  return tray[asked];
}

function AskedForm({ asked, ...props }: TrayPartProps & { readonly asked: Asked }) {
  switch (asked) {
    case 'weigh':
      return <WeighForm {...props} />;
    case 'move':
      return <MoveForm {...props} />;
    case 'potOn':
      return <PotOnForm {...props} />;
    case 'attach':
      return <AttachForm {...props} />;
    case 'note':
      return <NoteForm tray={props.tray.id} canTell={props.present.canTell} onKept={props.onDone} />;
    case 'end':
      return <EndForm {...props} />;
  }
}
