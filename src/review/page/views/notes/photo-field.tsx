import { useEffect, useRef, useState } from 'preact/hooks';
import { useHouse } from '../../house/house.js';
import { numberWords } from '../../texts/amounts/amounts.js';
import { type SmallPhoto, smallPhoto } from './small-photo.js';

interface PhotoFieldProps {
  readonly photo: SmallPhoto | undefined;
  readonly onPhoto: (photo: SmallPhoto | undefined) => void;
}

/** Takes or chooses a photo, makes it small on this phone and shows what will be sent. */
export function PhotoField({ photo, onPhoto }: PhotoFieldProps) {
  const { texts } = useHouse();
  const words = texts.journal;
  const place = useRef<HTMLDivElement>(null);
  const [isNone, setIsNone] = useState(false);
  useEffect(() => {
    if (photo !== undefined) place.current?.replaceChildren(photo.canvas);
  }, [photo]);
  const choose = async (file: File | undefined): Promise<void> => {
    const made = file === undefined ? undefined : await smallPhoto(file);
    setIsNone(file !== undefined && made === undefined);
    onPhoto(made);
  };
  if (photo !== undefined)
    return (
      <div class="photo-made">
        <div ref={place} class="photo" role="img" aria-label={words.photoText} />
        <p role="status">{words.photoKept(`${numberWords(photo.kB, 0)} kB`)}</p>
        <button type="button" class="press press-small" onClick={() => onPhoto(undefined)}>
          {words.photoDrop}
        </button>
      </div>
    );
  return (
    <>
      <label class="press press-small photo-pick">
        {words.photo}
        <input
          type="file"
          class="spoken"
          accept="image/*"
          onChange={(event) => void choose(event.currentTarget.files?.[0])}
        />
      </label>
      {isNone && <small role="status">{words.photoNot}</small>}
    </>
  );
}
