// The size of sheet a printer has. Which one is used stays on this device.
import { NativeSelect } from '@mantine/core';
import { useLocalStorage } from '@mantine/hooks';

const sheets = [
  { value: 'a4', label: 'A4' },
  { value: 'letter', label: 'US Letter' },
];

export const useSheet = () =>
  useLocalStorage({ key: 'dapple-sheet', defaultValue: 'a4', getInitialValueInEffect: false });

export function SheetChoice() {
  const [sheet, setSheet] = useSheet();
  return (
    <NativeSelect
      label="Sheet"
      value={sheet}
      data={sheets}
      onChange={(event) => setSheet(event.currentTarget.value)}
    />
  );
}
