// Invitations: a link, also as a QR code, that makes one account.
import { Button, CopyButton, NativeSelect, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { get, post } from '../api/client';
import { useDoing } from '../api/record';
import type { Invitation, NewInvitation, Role, Site } from '../api/schema';
import { AskDialog, Refused } from '../parts/AskDialog';
import { showMoment } from '../parts/dayWords';
import { Sheet } from '../parts/Sheet';
import { roleWords } from '../parts/site';
import { Failure, Loading, Nothing } from '../parts/Waiting';
import classes from './SettingsPage.module.css';
import invitationClasses from './Invitations.module.css';

const roles = Object.keys(roleWords) as Role[];
const isOpen = (invitation: Invitation, now: number) =>
  invitation.used_at === null && invitation.withdrawn_at === null && Date.parse(invitation.expires) > now;

function InviteDialog({
  site,
  onMade,
  onClose,
}: {
  site: Site;
  onMade: (made: NewInvitation) => void;
  onClose: () => void;
}) {
  const [role, setRole] = useState<Role>('keeper');
  const invite = useDoing(() => post('/api/invitations', { site: site.id, role }));
  return (
    <AskDialog
      title={`Invite somebody to ${site.name}`}
      act="Make the link"
      onAct={async () => onMade(await invite.mutateAsync(undefined))}
      onClose={onClose}
    >
      <NativeSelect
        label="As"
        description={roleWords[role].may}
        data={roles.map((one) => ({ value: one, label: roleWords[one].name }))}
        value={role}
        onChange={(event) => setRole(event.currentTarget.value as Role)}
      />
    </AskDialog>
  );
}

// The link is to be had only now: the record keeps no more than a digest of it.
function MadeSheet({
  made,
  zone,
  onClose,
}: {
  made: NewInvitation;
  zone?: string | undefined;
  onClose: () => void;
}) {
  return (
    <Sheet title={`Invitation as ${roleWords[made.invitation.role].name.toLowerCase()}`} onClose={onClose}>
      <p>
        Give this to one person, by a way only they read. It serves once, until{' '}
        {showMoment(made.invitation.expires, zone)}, and is not shown again.
      </p>
      <img
        className={invitationClasses.code}
        src={`data:image/svg+xml;utf8,${encodeURIComponent(made.qr_svg)}`}
        alt="The link as a QR code"
        width={220}
        height={220}
      />
      <TextInput label="Link" readOnly value={made.url} onFocus={(event) => event.currentTarget.select()} />
      <CopyButton value={made.url}>
        {({ copied, copy }) => (
          <Button className={invitationClasses.copy} onClick={copy}>
            {copied ? 'Copied' : 'Copy the link'}
          </Button>
        )}
      </CopyButton>
    </Sheet>
  );
}

function InvitationRow({ invitation, site }: { invitation: Invitation; site: Site }) {
  const withdraw = useDoing(() =>
    post('/api/invitations/{id}/withdraw', undefined, { id: invitation.id, query: { site: site.id } }),
  );
  return (
    <li className={classes.row}>
      <div>
        <h3>{roleWords[invitation.role].name}</h3>
        <p className={classes.soft}>
          Made {showMoment(invitation.made_at, site.time_zone)}; serves until{' '}
          {showMoment(invitation.expires, site.time_zone)}
        </p>
      </div>
      <Button
        variant="subtle"
        size="compact-sm"
        loading={withdraw.isPending}
        onClick={() => withdraw.mutate(undefined)}
      >
        Withdraw
      </Button>
      {withdraw.error && <Refused error={withdraw.error} />}
    </li>
  );
}

export function Invitations({ site }: { site: Site }) {
  const { data, error, isPending, refetch } = useQuery({
    queryKey: ['record', 'invitations', site.id],
    queryFn: async ({ signal }) =>
      (await get('/api/invitations', { signal, query: { site: site.id } })).invitations,
  });
  const [isAsking, setAsking] = useState(false);
  const [made, setMade] = useState<NewInvitation | null>(null);
  const open = data?.filter((invitation) => isOpen(invitation, Date.now())) ?? [];
  return (
    <div>
      <h2>Invitations</h2>
      {isPending && <Loading what="the invitations" lines={1} />}
      {error && <Failure error={error} retry={() => void refetch()} />}
      {data && open.length === 0 && <Nothing>No open invitation.</Nothing>}
      {open.length > 0 && (
        <ul className={classes.rows} aria-label="Open invitations">
          {open.map((invitation) => (
            <InvitationRow key={invitation.id} invitation={invitation} site={site} />
          ))}
        </ul>
      )}
      <p>
        <Button variant="default" onClick={() => setAsking(true)}>
          Invite somebody
        </Button>
      </p>
      {isAsking && <InviteDialog site={site} onMade={setMade} onClose={() => setAsking(false)} />}
      {made && !isAsking && <MadeSheet made={made} zone={site.time_zone} onClose={() => setMade(null)} />}
    </div>
  );
}
