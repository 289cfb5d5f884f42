// A person's units and colours. The server keeps them with the person; this device keeps a copy, so that a page has
// them before an answer comes, and without one.
import { useMantineColorScheme, type MantineColorScheme } from '@mantine/core';
import { useIsMutating, useMutation, useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';
import { put } from '../api/client';
import { useMe } from '../api/record';
import type { Me } from '../api/schema';
import {
  lengthUnits,
  temperatureUnits,
  useLengthUnit,
  useTemperatureUnit,
  type LengthUnit,
  type TemperatureUnit,
} from '../parts/units';

export const schemes = ['auto', 'light', 'dark'] as const satisfies readonly MantineColorScheme[];
export type OwnSettings = {
  length: LengthUnit;
  temperature: TemperatureUnit;
  scheme: MantineColorScheme;
};

// What was kept, as far as it is understood: a later version may have kept more.
export function understood(kept: Readonly<Record<string, unknown>> | undefined): Partial<OwnSettings> {
  const one = <T extends string>(name: string, allowed: readonly T[]) => {
    const found = allowed.find((word) => word === kept?.[name]);
    return found === undefined ? {} : { [name]: found };
  };
  return {
    ...one('length', lengthUnits),
    ...one('temperature', temperatureUnits),
    ...one('scheme', schemes),
  };
}

const keeping = ['own-settings'];

function useOnThisDevice() {
  const [length, keepLength] = useLengthUnit();
  const [temperature, keepTemperature] = useTemperatureUnit();
  const { colorScheme, setColorScheme } = useMantineColorScheme();
  const here: OwnSettings = { length, temperature, scheme: colorScheme };
  function keepHere(wanted: Partial<OwnSettings>) {
    if (wanted.length && wanted.length !== length) keepLength(wanted.length);
    if (wanted.temperature && wanted.temperature !== temperature) keepTemperature(wanted.temperature);
    if (wanted.scheme && wanted.scheme !== colorScheme) setColorScheme(wanted.scheme);
  }
  return { here, keepHere };
}

export function useOwnSettings() {
  const { here, keepHere } = useOnThisDevice();
  const me = useMe();
  const queries = useQueryClient();
  const { mutate, isError } = useMutation({
    mutationKey: keeping,
    scope: { id: 'own-settings' }, // one after the other: the last choice is the one that stays
    // The interface says no more of them than that they are an object.
    mutationFn: (settings: object) => put('/api/me/settings', settings as Record<string, never>),
    onSuccess: (person) => queries.setQueryData<Me>(['me'], (was) => was && { ...was, person }),
  });
  function choose(wanted: Partial<OwnSettings>) {
    keepHere(wanted);
    const person = me.data?.person;
    if (person) mutate({ ...person.settings, ...here, ...wanted });
  }
  return { settings: here, choose, isOnlyHere: isError };
}

// Once, in the frame: what the person chose elsewhere holds here too.
export function useSettingsOfPerson() {
  const { keepHere } = useOnThisDevice();
  const person = useMe().data?.person;
  const isKeeping = useIsMutating({ mutationKey: keeping }) > 0;
  useEffect(() => {
    if (person && !isKeeping) keepHere(understood(person.settings));
    // Only when the person or what is kept of them changes, not when this device's copy does.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [person?.id, person?.revision, isKeeping]);
}
