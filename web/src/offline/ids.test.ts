import { describe, expect, it } from 'vitest';
import { newId } from './ids';

describe('ids made here', () => {
  it('carry the time as the ULID specification’s example does', () => {
    // README of github.com/ulid/javascript (from memory): ulid(1469918176385) begins with 01ARYZ6S41.
    expect(newId(1469918176385).slice(0, 10)).toBe('01ARYZ6S41');
  });

  it('write eighty random bits five at a time, first byte first', () => {
    // 10 bytes 0x00 0x01 .. 0x09 in binary, cut into fives by hand: 00000 00000 00000 10000 00100 00000 11000 00100 ...
    const id = newId(0, (bytes) => bytes.forEach((_, i) => (bytes[i] = i)));
    expect(id).toBe('0000000000' + '000G40R40M30E209');
    expect(newId(0, (bytes) => bytes.fill(255)).slice(10)).toBe('Z'.repeat(16));
  });

  it('sort by age and are 26 letters the server accepts', () => {
    const ids = [1, 1000, 1_700_000_000_000, 2 ** 48 - 1].map((now) => newId(now));
    expect([...ids].sort()).toEqual(ids);
    for (const id of ids) expect(id).toMatch(/^[0-7][0-9A-HJKMNP-TV-Z]{25}$/);
  });

  it('do not repeat', () => {
    expect(new Set(Array.from({ length: 1000 }, () => newId(5))).size).toBe(1000);
  });
});
