import {
  createTheme,
  defaultVariantColorsResolver,
  type MantineColorsTuple,
  type VariantColorsResolver,
} from '@mantine/core';

// The green-blue of clear water; readable on paper from shade 7, on the dark ground from shade 3.
const pool: MantineColorsTuple = [
  '#e6f4f3',
  '#cfe6e5',
  '#a3d1cf',
  '#7cc4c2',
  '#4fa5a5',
  '#2f8a8c',
  '#1b7276',
  '#0b5c63',
  '#084a50',
  '#05373c',
];
const dark: MantineColorsTuple = [
  '#e6eeea',
  '#c3cfca',
  '#a3b3ae',
  '#6d7f79',
  '#465650',
  '#2f3e3a',
  '#1f2c29',
  '#172220',
  '#0f1716',
  '#0a100f',
];

// Left alone, text on the accent takes the light scheme's contrast in the dark one too: white on shade 3.
const variantColorResolver: VariantColorsResolver = (input) => {
  const colours = defaultVariantColorsResolver(input);
  const isAccent = input.variant === 'filled' && (input.color === undefined || input.color === 'pool');
  return isAccent ? { ...colours, color: 'var(--mantine-primary-color-contrast)' } : colours;
};

export const theme = createTheme({
  variantColorResolver,
  primaryColor: 'pool',
  primaryShade: { light: 7, dark: 3 },
  autoContrast: true,
  colors: { pool, dark },
  fontFamily: '"Atkinson Hyperlegible Next Variable", system-ui, sans-serif',
  defaultRadius: 'sm',
  focusRing: 'auto',
});
