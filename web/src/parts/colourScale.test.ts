import { describe, expect, it } from 'vitest';
import { paint, placeOnScale, roundUp, scaleFor } from './colourScale';
import { placeOnAxis } from './rangeAxis';

describe('the colour scale', () => {
  it('gives UVI the same place as the range strips, whatever the field holds', () => {
    for (const most of [0.3, 7, 40]) expect(placeOnScale(scaleFor('uvi', most), 3.1)).toBe(placeOnAxis(3.1));
  });

  it('ends at the next round number above the brightest value', () => {
    expect([0.13, 1, 4.2, 60, 8000].map(roundUp)).toEqual([0.2, 1, 5, 100, 10000]);
  });

  it('paints more light as lighter, opaque pixels', () => {
    const pixels = paint(new Float32Array([0.05, 0.5, 5, 20]), scaleFor('uvi', 20));
    const lightness = [0, 1, 2, 3].map((i) => {
      const [r = 0, g = 0, b = 0] = pixels.slice(4 * i);
      return 0.2126 * r + 0.7152 * g + 0.0722 * b;
    });
    expect(lightness).toEqual([...lightness].sort((a, b) => a - b));
    expect(new Set(lightness).size).toBe(4);
    expect(pixels[3]).toBe(255);
  });
});
