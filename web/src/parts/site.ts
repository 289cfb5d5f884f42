// Which site is shown, and what its reader may do there. The choice stays on this device.
import { useLocalStorage } from '@mantine/hooks';
import { useSites } from '../api/record';
import type { Role } from '../api/schema';

export function useSiteChoice() {
  return useLocalStorage({ key: 'dapple-site', defaultValue: '', getInitialValueInEffect: false });
}

// The chosen site, else the first; undefined until it is known who asks, and for somebody who belongs to none.
export function useSite() {
  const sites = useSites();
  const [chosen] = useSiteChoice();
  return sites.find(({ site }) => site.id === chosen) ?? sites[0];
}

export const mayWrite = (role: Role | undefined): boolean => role === 'keeper' || role === 'manager';
export const mayManage = (role: Role | undefined): boolean => role === 'manager';

export const roleWords: Record<Role, { name: string; may: string }> = {
  viewer: { name: 'Viewer', may: 'sees everything and changes nothing' },
  keeper: { name: 'Keeper', may: 'surveys, moves animals, changes enclosures and lamps, settles tasks' },
  manager: { name: 'Manager', may: 'does all that, and looks after sites, people and imports' },
};
