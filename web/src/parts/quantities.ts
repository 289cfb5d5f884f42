// Quantities and receivers in a keeper's words.
import type { Quantity } from '../api/schema';

export const shownQuantities = ['uvi', 'uvb_w_m2', 'uva_w_m2', 'lux', 'irradiance_w_m2'] as const;
export type ShownQuantity = (typeof shownQuantities)[number];

export const quantityWords: Record<Quantity, { name: string; unit: string }> = {
  uvi: { name: 'UVI', unit: '' },
  erythemal_w_m2: { name: 'Erythemal', unit: 'W/m²' },
  d3_w_m2: { name: 'D3-effective', unit: 'W/m²' },
  actinic_w_m2: { name: 'Actinic', unit: 'W/m²' },
  uvc_w_m2: { name: 'UVC', unit: 'W/m²' },
  uvb_w_m2: { name: 'UVB', unit: 'W/m²' },
  uva_w_m2: { name: 'UVA', unit: 'W/m²' },
  lux: { name: 'Visible', unit: 'lx' },
  irradiance_w_m2: { name: 'All light', unit: 'W/m²' },
};

export const receivers = ['aimed', 'up', 'back'] as const;
export type Receiver = (typeof receivers)[number];
export const receiverWords: Record<Receiver, string> = {
  aimed: 'Aimed meter',
  up: 'Flat meter',
  back: 'Animal’s back',
};

// Three figures where a meter shows three; never a trail of noughts.
export function showNumber(value: number): string {
  const size = Math.abs(value);
  if (size === 0) return '0';
  if (size < 0.001) return value.toExponential(1);
  if (size < 0.1) return value.toFixed(3);
  if (size < 1) return value.toFixed(2);
  if (size < 100) return value.toFixed(1);
  return Math.round(value).toLocaleString('en');
}

export function showValue(quantity: Quantity, value: number): string {
  const { unit } = quantityWords[quantity];
  if (quantity === 'uvi') return value < 0.005 ? '0' : value < 1 ? value.toFixed(2) : value.toFixed(1);
  return unit === '' ? showNumber(value) : `${showNumber(value)} ${unit}`;
}
