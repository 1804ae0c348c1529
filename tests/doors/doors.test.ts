import { scryptSync } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { isSealed } from '../../shared/config/asked-word.js';
import { Lane } from '../../src/host/doors/lane.js';
import { Pace } from '../../src/host/doors/pace.js';
import { sealWord, WordCheck } from '../../src/host/doors/sealed-word.js';
import { sourceOf } from '../../src/host/doors/source-of.js';
import { WrongTries } from '../../src/host/doors/wrong-tries.js';

const base64 = (bytes: Buffer) => bytes.toString('base64').replace(/=+$/, '');

/** A seal that costs little to look at. */
function lightSeal(word: string): string {
  const salt = Buffer.from('0123456789abcdef');
  return `$scrypt$ln=10,r=8,p=1$${base64(salt)}$${base64(scryptSync(word, salt, 32, { N: 1024, r: 8, p: 1 }))}`;
}

describe('a sealed word', () => {
  it('is scrypt in the PHC string format: its hash is what scrypt makes of word, salt and costs', async () => {
    const sealed = await sealWord('seven wet benches');
    expect(isSealed(sealed)).toBe(true);
    const [, name, costs, salt = '', hash] = sealed.split('$');
    expect([name, costs]).toEqual(['scrypt', 'ln=14,r=8,p=5']);
    const made = scryptSync('seven wet benches', Buffer.from(salt, 'base64'), 32, { N: 2 ** 14, r: 8, p: 5 });
    expect(made.toString('base64').replace(/=+$/, '')).toBe(hash);
    expect(await sealWord('seven wet benches')).not.toBe(sealed);
  });

  it('fits its word and no other, at the first and at every further look', async () => {
    const check = new WordCheck(lightSeal('Käthe’s seven benches'.normalize('NFC')));
    for (let look = 0; look < 2; look++) {
      expect(await check.fits('Käthe’s seven benches'.normalize('NFD'))).toBe(true);
      expect(await check.fits('Käthe’s seven bench')).toBe(false);
      expect(await check.fits('')).toBe(false);
    }
  });

  it('RFC 7914 §12: the vector of N = 16384 checks', async () => {
    // P = "pleaseletmein", S = "SodiumChloride", N = 16384, r = 8, p = 1, dkLen = 64
    const hash =
      '7023bdcb3afd7348461c06cd81fd38ebfda8fbba904f8e3ea9b543f6545da1f2d5432955613f0fcf62d49705242a9af9e61e85dc0d651e40dfcf017b45575887';
    const sealed = `$scrypt$ln=14,r=8,p=1$${base64(Buffer.from('SodiumChloride'))}$${base64(Buffer.from(hash, 'hex'))}`;
    expect(await new WordCheck(sealed).fits('pleaseletmein')).toBe(true);
  });

  it('does not let guesses pile up: beyond sixteen nobody looks', async () => {
    const check = new WordCheck(lightSeal('seven wet benches'));
    const looks = await Promise.all(Array.from({ length: 20 }, (_, number) => check.fits(`guess ${number}`)));
    expect(looks.filter((fits) => fits === undefined)).toHaveLength(4);
  });
});

describe('wrong tries', () => {
  it('cost nothing up to four, then a wait that doubles up to a minute, for that source alone', () => {
    let nowMs = 0;
    const tries = new WrongTries(() => nowMs);
    const waits = Array.from({ length: 13 }, () => {
      nowMs += tries.waitMs('a');
      tries.wrong('a');
      return tries.waitMs('a') / 1000;
    });
    expect(waits).toEqual([0, 0, 0, 0, 1, 2, 4, 8, 16, 32, 60, 60, 60]);
    expect(tries.waitMs('b')).toBe(0);
    nowMs += 3_600_001;
    tries.wrong('a');
    expect(tries.waitMs('a')).toBe(0);
  });

  it('remembers a thousand sources, so that guessing from everywhere fills no memory', () => {
    const tries = new WrongTries(() => 0);
    for (let n = 0; n < 5; n++) tries.wrong('first');
    for (let n = 0; n < 999; n++) tries.wrong(`s${n}`);
    expect(tries.waitMs('first')).toBe(1000);
    tries.wrong('one more');
    expect(tries.waitMs('first')).toBe(0);
  });
});

describe('a source', () => {
  it.each([
    ['192.168.1.7', '192.168.1.7'],
    ['::ffff:192.168.1.7', '192.168.1.7'],
    ['2001:db8:1:2:3:4:5:6', '2001:db8:1:2::/64'],
    ['2001:db8::6', '2001:db8:0:0::/64'],
    ['fe80::1%eth0', 'fe80:0:0:0::/64'],
    ['::1', '0:0:0:0::/64'],
    [undefined, 'unknown'],
  ])('%s is %s', (address, source) => expect(sourceOf(address)).toBe(source));
});

describe('a pace', () => {
  it('lets a burst through, and then so many a second, whoever waits behind whom', () => {
    let nowMs = 0;
    const pace = new Pace({ burst: 2, perS: 10 }, () => nowMs);
    expect([1, 1, 1, 1].map((cost) => pace.take(cost))).toEqual([0, 0, 100, 200]);
    nowMs = 1_000;
    expect(pace.isRested()).toBe(true);
    expect(pace.take(2)).toBe(0);
    expect(pace.isRested()).toBe(false);
  });

  it('in a lane keeps the order and loses nothing', async () => {
    const lane = new Lane({ burst: 3, perS: 500 }, () => performance.now());
    const passed: number[] = [];
    await new Promise<void>((resolve) => {
      for (let n = 0; n < 20; n++)
        lane.pass(1, () => {
          passed.push(n);
          if (n === 19) resolve();
        });
      expect(passed).toEqual([0, 1, 2]);
    });
    expect(passed).toEqual(Array.from({ length: 20 }, (_, n) => n));
  });
});
