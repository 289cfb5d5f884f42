// Who is here, their units and colours, and the way out.
import { Button, Popover } from '@mantine/core';
import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { Link } from 'wouter';
import { remove } from '../api/client';
import { askMe, useMe } from '../api/record';
import { roleWords, useSite } from '../parts/site';
import { Failure } from '../parts/Waiting';
import { OwnSwitches } from './OwnSwitches';
import classes from './PersonMenu.module.css';

function SignOut() {
  const queries = useQueryClient();
  const [error, setError] = useState<Error | null>(null);
  async function signOut() {
    try {
      await remove('/api/session');
      const stranger = await askMe();
      queries.removeQueries({ queryKey: ['record'] }); // nothing of the record stays behind on a shared screen
      queries.setQueryData(['me'], stranger);
    } catch (refused) {
      setError(refused instanceof Error ? refused : new Error(String(refused)));
    }
  }
  return (
    <>
      {error && <Failure error={error} />}
      <Button variant="default" fullWidth onClick={() => void signOut()}>
        Sign out
      </Button>
    </>
  );
}

// The inside, for the desk's menu and the phone's sheet alike.
export function PersonPart() {
  const me = useMe().data;
  const here = useSite();
  return (
    <div className={classes.part}>
      {me?.accounts && me.person && (
        <p className={classes.who}>
          <strong>{me.person.name}</strong>
          {here && `, ${roleWords[here.role].name.toLowerCase()} at ${here.site.name}`}
        </p>
      )}
      <OwnSwitches />
      {me?.accounts && me.person && <SignOut />}
    </div>
  );
}

export function PersonMenu() {
  const me = useMe().data;
  const [isOpen, setOpen] = useState(false);
  const name = me?.accounts && me.person ? me.person.name : 'Units and colours';
  return (
    <Popover
      opened={isOpen}
      onChange={setOpen}
      position="bottom-end"
      width={330}
      trapFocus
      returnFocus
      shadow="md"
    >
      <Popover.Target>
        <Button
          variant="default"
          className={classes.button}
          aria-expanded={isOpen}
          onClick={() => setOpen(!isOpen)}
        >
          {name}
        </Button>
      </Popover.Target>
      <Popover.Dropdown aria-label={name}>
        <PersonPart />
        <p className={classes.more}>
          <Link href="/settings" onClick={() => setOpen(false)}>
            All settings
          </Link>
        </p>
      </Popover.Dropdown>
    </Popover>
  );
}
