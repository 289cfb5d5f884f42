import { Select, TextInput } from '@mantine/core';
import type { Me } from '../api/schema';
import classes from './FirstRunPage.module.css';

export const another = '';

type Props = {
  sites: Me['sites'];
  site: string; // id, or `another`
  siteName: string;
  name: string;
  namePlaceholder: string;
  onSite: (id: string) => void;
  onSiteName: (name: string) => void;
  onName: (name: string) => void;
};

export function PlaceStep(props: Props) {
  const { sites, site } = props;
  return (
    <section className={classes.step} aria-label="Name and place">
      <h2>4. What is it called, and where is it?</h2>
      <div className={classes.pair}>
        <TextInput
          label="Name of the enclosure"
          placeholder={props.namePlaceholder}
          value={props.name}
          onChange={(event) => props.onName(event.currentTarget.value)}
        />
        {sites.length > 0 && (
          <Select
            label="Site"
            data={[
              ...sites.map((one) => ({ value: one.site.id, label: one.site.name })),
              { value: another, label: 'Another site…' },
            ]}
            allowDeselect={false}
            value={site}
            onChange={(id) => props.onSite(id ?? another)}
          />
        )}
        {site === another && (
          <TextInput
            label="Name of the site"
            placeholder="Home"
            value={props.siteName}
            onChange={(event) => props.onSiteName(event.currentTarget.value)}
          />
        )}
      </div>
    </section>
  );
}
