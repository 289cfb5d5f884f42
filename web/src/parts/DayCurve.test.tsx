import { cleanup, render, screen } from '@testing-library/react';
import { afterEach, beforeAll, describe, expect, it } from 'vitest';
import { DayCurve, topOf } from './DayCurve';

const moments = Array.from({ length: 13 }, (_, i) => ({
  time: `2026-06-21T${String(6 + i).padStart(2, '0')}:00:00+02:00`,
  uvi: 8 * Math.sin((Math.PI * i) / 12),
}));

beforeAll(() => {
  globalThis.ResizeObserver = class {
    observe() {}
    unobserve() {}
    disconnect() {}
  };
});
afterEach(cleanup);

describe('the day’s curve', () => {
  it('has room above its highest value and shows where a band begins that the day does not reach', () => {
    expect(topOf(moments, null)).toBeGreaterThan(8);
    expect(topOf([{ time: '', uvi: 0.4 }], [2.9, 7.4])).toBeGreaterThan(0.9);
    expect(topOf(moments, [0, 0.7])).toBeCloseTo(8 * 1.12, 6);
  });

  it('marks the band on the axis, each window under the curve, and the hours of the place’s own clock', () => {
    const { container } = render(
      <>
        <DayCurve
          moments={moments}
          band={[2.9, 7.4]}
          windows={[
            { from: '2026-06-21T07:30:00+02:00', to: '2026-06-21T10:00:00+02:00' },
            { from: '2026-06-21T14:00:00+02:00', to: '2026-06-21T16:30:00+02:00' },
          ]}
          at={moments[6] ?? null}
          label="The day in words"
        />
      </>,
    );
    expect(screen.getByRole('img', { name: 'The day in words' })).toBeTruthy();
    expect(container.querySelectorAll('clipPath')).toHaveLength(2);
    expect(screen.getByText('band 2.9 to 7.4')).toBeTruthy();
    expect(screen.getByText('12:00')).toBeTruthy();
    expect(container.querySelector('circle')?.getAttribute('cy')).not.toBe('NaN');
  });
});
