import { useState } from 'preact/hooks';
import { useHouse } from '../../house/house.js';

/** A photo that the house keeps; what it shows is said beside it. */
export function KeptPhoto({ id, of }: { readonly id: string; readonly of: string }) {
  const { texts } = useHouse();
  const [isGone, setIsGone] = useState(false);
  if (isGone) return <p class="line-stays">{texts.journal.photoGone}</p>;
  const address = `/api/photo/${id}`;
  return (
    <a class="photo" href={address} target="_blank" rel="noreferrer">
      <img src={address} alt={texts.journal.photoOf(of)} loading="lazy" onError={() => setIsGone(true)} />
    </a>
  );
}
