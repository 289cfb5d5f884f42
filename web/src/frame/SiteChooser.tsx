// Which site is shown; nothing to choose where there is one.
import { NativeSelect } from '@mantine/core';
import { useSites } from '../api/record';
import { useSite, useSiteChoice } from '../parts/site';

export function SiteChooser() {
  const sites = useSites();
  const here = useSite();
  const [, choose] = useSiteChoice();
  if (sites.length < 2 || !here) return null;
  return (
    <NativeSelect
      aria-label="Site"
      data={sites.map(({ site }) => ({ value: site.id, label: site.name }))}
      value={here.site.id}
      onChange={(event) => choose(event.currentTarget.value)}
    />
  );
}
