// The screens, and which of them stand within the thumb's reach on a phone.
export type Screen = { address: string; name: string; onBar: boolean };

export const screens: readonly Screen[] = [
  { address: '/today', name: 'Today', onBar: true },
  { address: '/collection', name: 'Collection', onBar: true },
  { address: '/survey', name: 'Survey', onBar: true },
  { address: '/lamps', name: 'Lamps', onBar: true },
  { address: '/sun', name: 'Sun', onBar: false },
  { address: '/species', name: 'Species', onBar: false },
  { address: '/report', name: 'Report', onBar: false },
  { address: '/settings', name: 'Settings', onBar: false },
];

export const isAt = (address: string, screen: Screen): boolean =>
  address === screen.address || address.startsWith(`${screen.address}/`);
