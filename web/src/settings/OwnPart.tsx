// One's own: units, colours, password.
import { Button, PasswordInput } from '@mantine/core';
import { useMutation } from '@tanstack/react-query';
import { useState, type SyntheticEvent } from 'react';
import { put } from '../api/client';
import { useMe } from '../api/record';
import { OwnSwitches } from '../frame/OwnSwitches';
import { Refused } from '../parts/AskDialog';
import { shortestPassword } from '../people/password';
import formClasses from './Forms.module.css';
import classes from './SettingsPage.module.css';

function OwnPassword() {
  const [old, setOld] = useState('');
  const [wanted, setWanted] = useState('');
  const change = useMutation({
    mutationFn: () => put('/api/me/password', { old, new: wanted }),
    onSuccess: () => {
      setOld('');
      setWanted('');
    },
  });
  function submit(event: SyntheticEvent) {
    event.preventDefault();
    change.mutate();
  }
  return (
    <form aria-label="Own password" onSubmit={submit}>
      <h2>Password</h2>
      <div className={formClasses.form}>
        <PasswordInput
          label="The one you have"
          autoComplete="current-password"
          required
          value={old}
          onChange={(event) => setOld(event.currentTarget.value)}
        />
        <PasswordInput
          label="The new one"
          description={`At least ${shortestPassword} characters. A few words in a row are easy to keep in mind.`}
          autoComplete="new-password"
          required
          minLength={shortestPassword}
          value={wanted}
          onChange={(event) => setWanted(event.currentTarget.value)}
        />
        {change.error && <Refused error={change.error} />}
        <div className={formClasses.buttons}>
          <Button type="submit" loading={change.isPending}>
            Change the password
          </Button>
          <span aria-live="polite">{change.isSuccess && 'Changed. You are signed out everywhere else.'}</span>
        </div>
      </div>
    </form>
  );
}

export function OwnPart() {
  const me = useMe().data;
  return (
    <>
      <div className={formClasses.form}>
        <h2>Units and colours</h2>
        <OwnSwitches />
        <p className={classes.soft}>
          {me?.accounts
            ? 'They go with you to every device you sign in on.'
            : 'Nobody needs to sign in on this machine; they hold for everybody who uses it.'}
        </p>
      </div>
      {me?.accounts && me.person && <OwnPassword />}
    </>
  );
}
