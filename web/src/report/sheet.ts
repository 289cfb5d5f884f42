// The sizes of sheet a printer may have. Which one is used stays on this device.
import { useLocalStorage } from '@mantine/hooks';

export const sheets = [
  { value: 'a4', label: 'A4' },
  { value: 'letter', label: 'US Letter' },
];

export const useSheet = () =>
  useLocalStorage({ key: 'dapple-sheet', defaultValue: 'a4', getInitialValueInEffect: false });
