import { MOST_PHOTO_BYTES, type PhotoKept } from '../photos/photo-shelf.js';
import { Refusal } from './http/respond.js';

/** Why a photo was not kept; its note was not either. */
export function photoRefusal(
  outcome: Extract<PhotoKept, { outcome: 'no-photo' | 'photo-too-large' | 'photos-full' }>['outcome'],
  photosMb: number,
): Refusal {
  switch (outcome) {
    case 'no-photo':
      return new Refusal(415, outcome, 'That is no JPEG of at most 1600 px. Nothing was kept.');
    case 'photo-too-large':
      return new Refusal(
        413,
        outcome,
        `A photo may have ${MOST_PHOTO_BYTES / 1000} kB; this one has more. Nothing was kept.`,
      );
    case 'photos-full':
      return new Refusal(
        507,
        outcome,
        `The photos of this farm take all of their ${photosMb} MB (page.photosMb in the configuration). The note was not kept: write it without the photo, or give photos more room.`,
      );
  }
}
