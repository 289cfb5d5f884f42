// A species found by its common or scientific name; estimates are marked as such.
import { Combobox, TextInput, useCombobox } from '@mantine/core';
import { useDebouncedValue } from '@mantine/hooks';
import { useState } from 'react';
import { useSpeciesList } from '../api/queries';
import type { Species } from '../api/schema';
import classes from './SpeciesSearch.module.css';

type Props = { label: string; description?: string; onChoose: (sheet: Species) => void; keep?: boolean };

const shown = 12;
export const speciesName = (sheet: Species) => sheet.common_names[0] ?? sheet.scientific_name;

export function SpeciesSearch({ label, description, onChoose, keep = false }: Props) {
  const combobox = useCombobox({ onDropdownClose: () => combobox.resetSelectedOption() });
  const [typed, setTyped] = useState('');
  const [words] = useDebouncedValue(typed.trim(), 150);
  const { data, isFetching } = useSpeciesList(words);
  const found = words === '' ? [] : (data?.species ?? []).slice(0, shown);
  return (
    <Combobox
      store={combobox}
      onOptionSubmit={(id) => {
        const sheet = found.find((one) => one.id === id);
        if (!sheet) return;
        onChoose(sheet);
        setTyped(keep ? speciesName(sheet) : '');
        combobox.closeDropdown();
      }}
    >
      <Combobox.Target>
        <TextInput
          type="search"
          label={label}
          description={description}
          placeholder="Common or scientific name"
          value={typed}
          onChange={(event) => {
            setTyped(event.currentTarget.value);
            combobox.openDropdown();
            combobox.updateSelectedOptionIndex();
          }}
          onFocus={() => combobox.openDropdown()}
          onBlur={() => combobox.closeDropdown()}
        />
      </Combobox.Target>
      <Combobox.Dropdown hidden={words === ''}>
        <Combobox.Options>
          {found.map((sheet) => (
            <Combobox.Option key={sheet.id} value={sheet.id} className={classes.option}>
              <span>{speciesName(sheet)}</span> <i>{sheet.scientific_name}</i>
              {sheet.estimate && <b> estimate</b>}
            </Combobox.Option>
          ))}
          {found.length === 0 && (
            <Combobox.Empty>
              {isFetching ? 'Looking…' : 'No sheet fits. Try the scientific name.'}
            </Combobox.Empty>
          )}
        </Combobox.Options>
      </Combobox.Dropdown>
    </Combobox>
  );
}
