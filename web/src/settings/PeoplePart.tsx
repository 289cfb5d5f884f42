// Who may do what at the site, and who is invited.
import { Button, NativeSelect } from '@mantine/core';
import { useState } from 'react';
import { post, put } from '../api/client';
import { useDoing, useMe, useThings } from '../api/record';
import type { Membership, Person, Role } from '../api/schema';
import { AskDialog, Refused } from '../parts/AskDialog';
import { mayManage, roleWords } from '../parts/site';
import { Failure, Loading, Nothing } from '../parts/Waiting';
import { Invitations } from './Invitations';
import classes from './SettingsPage.module.css';
import type { Here } from './SettingsPage';

type RowProps = { membership: Membership; person: Person | undefined; isSelf: boolean; mayAct: boolean };

const roles = Object.keys(roleWords) as Role[];

function EndDialog({
  membership,
  name,
  onClose,
}: {
  membership: Membership;
  name: string;
  onClose: () => void;
}) {
  const end = useDoing(() =>
    post('/api/memberships/{id}/retire', undefined, { id: membership.id, seen: membership.revision }),
  );
  return (
    <AskDialog
      title={`${name} leaves the site`}
      act="Take away the role"
      onAct={() => end.mutateAsync(undefined)}
      onClose={onClose}
    >
      <p>{name} no longer sees this site. What they wrote stays, under their name.</p>
    </AskDialog>
  );
}

function PersonRow({ membership, person, isSelf, mayAct }: RowProps) {
  const [isEnding, setEnding] = useState(false);
  const change = useDoing((role: Role) =>
    put(
      '/api/memberships/{id}',
      { person: membership.person, role },
      { id: membership.id, seen: membership.revision },
    ),
  );
  const name = person?.name ?? membership.person;
  return (
    <li className={classes.row}>
      <div>
        <h3>
          {name}
          {isSelf && ' (you)'}
        </h3>
        <p className={classes.soft}>
          {roleWords[membership.role].name}: {roleWords[membership.role].may}
        </p>
      </div>
      {/* Nobody takes their own role away: a site must not be left without a manager by a slip. */}
      {mayAct && !isSelf && (
        <>
          <NativeSelect
            aria-label={`Role of ${name}`}
            data={roles.map((role) => ({ value: role, label: roleWords[role].name }))}
            value={membership.role}
            disabled={change.isPending}
            onChange={(event) => change.mutate(event.currentTarget.value as Role)}
          />
          <Button
            variant="subtle"
            size="compact-sm"
            aria-label={`${name} leaves the site`}
            onClick={() => setEnding(true)}
          >
            Leaves
          </Button>
        </>
      )}
      {change.error && <Refused error={change.error} />}
      {isEnding && <EndDialog membership={membership} name={name} onClose={() => setEnding(false)} />}
    </li>
  );
}

export function PeoplePart({ here: { site, role } }: { here: Here }) {
  const me = useMe().data;
  const hasAccounts = me?.accounts ?? false;
  const people = useThings('people', {}, hasAccounts);
  const memberships = useThings('memberships', { site: site.id }, hasAccounts);
  const error = people.error ?? memberships.error;
  if (!hasAccounts) {
    return (
      <div>
        <h2>People</h2>
        <Nothing>
          This record is used on one machine, and nobody needs to sign in. To let others in, start Dapple with
          <code> --accounts</code> and make the first account with <code>dapple account</code>.
        </Nothing>
      </div>
    );
  }
  return (
    <>
      <div>
        <h2>People</h2>
        {(people.isPending || memberships.isPending) && <Loading what="the people" />}
        {error && (
          <Failure error={error} retry={() => void Promise.all([people.refetch(), memberships.refetch()])} />
        )}
        {people.data && memberships.data && (
          <ul className={classes.rows} aria-label="People">
            {memberships.data.map((membership) => (
              <PersonRow
                key={membership.id}
                membership={membership}
                person={people.data.find(({ id }) => id === membership.person)}
                isSelf={membership.person === me?.person?.id}
                mayAct={mayManage(role)}
              />
            ))}
          </ul>
        )}
      </div>
      {mayManage(role) && <Invitations site={site} />}
    </>
  );
}
