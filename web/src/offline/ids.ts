// Ids made on the phone: ULIDs (github.com/ulid/spec), laid out as the server's own (src/record/chance.h): 48 bits of
// milliseconds since 1970, then 80 random bits, in Crockford's base 32. They sort by age and clash with nobody's.
const letters = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

export type Chance = (bytes: Uint8Array) => void;
const ownChance: Chance = (bytes) => void crypto.getRandomValues(bytes);

export function newId(now_ms = Date.now(), chance = ownChance): string {
  const id: string[] = [];
  for (let i = 0, rest = now_ms; i < 10; ++i, rest = Math.floor(rest / 32))
    id.unshift(letters.charAt(rest % 32));
  const random = new Uint8Array(10);
  chance(random);
  let held = 0;
  let bits = 0;
  for (const byte of random) {
    held = (held << 8) | byte;
    for (bits += 8; bits >= 5; bits -= 5) id.push(letters.charAt((held >> (bits - 5)) & 31));
    held &= (1 << bits) - 1;
  }
  return id.join('');
}
