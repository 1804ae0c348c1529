/** What the system's codes mean to somebody who has a file in mind. */
const WORDS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file or folder; check the path',
  ENOTDIR: 'a part of the path is a file, not a folder; check the path',
  EISDIR: 'is a folder, and a file was expected',
  EEXIST: 'is there already',
  ENOTEMPTY: 'the folder is not empty',
  EACCES: 'this user may not; mend the permissions, or run as the user to whom it belongs',
  EPERM: 'this user may not; mend the permissions, or run as the user to whom it belongs',
  EROFS: 'the disk can only be read, not written',
  ENOSPC: 'the disk is full; make room',
  EDQUOT: "this user's share of the disk is full; make room",
  EFBIG: 'the file would be larger than the disk takes',
  EMFILE: 'too many files are open; end other programs, or raise the limit',
  ENFILE: 'too many files are open; end other programs, or raise the limit',
  EBUSY: 'another program has it; end that first',
  ETXTBSY: 'another program has it; end that first',
  ELOOP: 'its links lead in a circle',
  ENAMETOOLONG: 'the name is too long',
  EIO: 'the disk gives an error; back up what is on it, and change it',
};

/** A failure of the file system itself as Node reports it, and for which there are words here; not one of the network. */
export function isFileTrouble(cause: unknown): cause is Error & { readonly path?: string } {
  return (
    cause instanceof Error &&
    'syscall' in cause &&
    'code' in cause &&
    WORDS[String(cause.code)] !== undefined &&
    !('address' in cause)
  );
}

/** What went wrong with a file and what to do, in a few words without its name; the code where we have no words for it. */
export function fileTrouble(cause: unknown): string {
  if (!(cause instanceof Error)) return String(cause);
  const code = 'code' in cause ? String(cause.code) : undefined;
  return (
    (code === undefined ? undefined : WORDS[code]) ?? (code ? `${cause.message} (${code})` : cause.message)
  );
}
