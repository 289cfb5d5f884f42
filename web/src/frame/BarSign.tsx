// Small signs over the words of the phone's bar; the words say what they are.
const drawings: Readonly<Record<string, string>> = {
  Today: 'M4 5.5l2 2 3.5-4M12.5 6H20M4 12.5l2 2 3.5-4M12.5 13H20M5 20h3M12.5 20H20',
  Collection: 'M3 4h8v7H3zM13 4h8v7h-8zM3 13h8v7H3zM13 13h8v7h-8z',
  Survey: 'M3.5 18a8.5 8.5 0 1 1 17 0M12 18l4-6.5M6.6 15l1.2.6M12 9.5v1.6M3 21h18',
  Lamps: 'M3 5h18v4H3zM5 5V3M19 5V3M6 13l-1.5 4M12 13v5M18 13l1.5 4',
  More: 'M4 12h2M11 12h2M18 12h2',
};

export function BarSign({ of }: { of: string }) {
  return (
    <svg viewBox="0 0 24 24" width="24" height="24" aria-hidden="true">
      <path
        d={drawings[of]}
        fill="none"
        stroke="currentColor"
        strokeWidth="1.8"
        strokeLinecap="round"
        strokeLinejoin="round"
      />
    </svg>
  );
}
