// Behind an invitation's link. Its word stands behind the # and is never sent with the address.
import { Button, PasswordInput, TextInput } from '@mantine/core';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState, type SyntheticEvent } from 'react';
import { Link, useLocation } from 'wouter';
import { get, post, setCsrf, Refusal } from '../api/client';
import { useMe } from '../api/record';
import { roleWords } from '../parts/site';
import { Failure, Loading, Nothing } from '../parts/Waiting';
import { shortestPassword } from './password';
import classes from './people.module.css';

type Account = { name: string; login: string; password: string };

function useAccepting(token: string) {
  const queries = useQueryClient();
  const [, go] = useLocation();
  return useMutation({
    mutationFn: (account: Account | null) => post('/api/invited', { token, ...account }),
    onSuccess: (me) => {
      setCsrf(me.csrf);
      queries.setQueryData(['me'], me);
      go('/today', { replace: true });
    },
  });
}

function NewAccount({ token }: { token: string }) {
  const [name, setName] = useState('');
  const [login, setLogin] = useState('');
  const [password, setPassword] = useState('');
  const accept = useAccepting(token);
  function submit(event: SyntheticEvent) {
    event.preventDefault();
    accept.mutate({ name: name.trim(), login: login.trim(), password });
  }
  return (
    <form className={classes.form} aria-label="Your account" onSubmit={submit}>
      <TextInput
        label="Your name"
        description="As others see it beside what you did"
        autoComplete="name"
        required
        value={name}
        onChange={(event) => setName(event.currentTarget.value)}
      />
      <TextInput
        label="Login name"
        autoComplete="username"
        autoCapitalize="none"
        spellCheck={false}
        required
        value={login}
        onChange={(event) => setLogin(event.currentTarget.value)}
      />
      <PasswordInput
        label="Password"
        description={`At least ${shortestPassword} characters. A few words in a row are easy to keep in mind.`}
        autoComplete="new-password"
        required
        minLength={shortestPassword}
        value={password}
        onChange={(event) => setPassword(event.currentTarget.value)}
      />
      {accept.error && <Failure error={accept.error} />}
      <Button type="submit" loading={accept.isPending}>
        Make the account
      </Button>
    </form>
  );
}

function AsWhoIsHere({ token, name }: { token: string; name: string }) {
  const accept = useAccepting(token);
  return (
    <div className={classes.form}>
      {accept.error && <Failure error={accept.error} />}
      <Button loading={accept.isPending} onClick={() => accept.mutate(null)}>
        Accept as {name}
      </Button>
      <p className={classes.soft}>
        Not {name}? <Link href="/today">Go back</Link>, sign out, and open the link again.
      </p>
    </div>
  );
}

export default function InvitedPage() {
  const [token] = useState(() => decodeURIComponent(window.location.hash.slice(1)));
  const me = useMe().data;
  const invited = useQuery({
    queryKey: ['invited', token],
    queryFn: ({ signal }) => get('/api/invited', { signal, query: { token } }),
    enabled: token !== '',
    retry: false,
  });
  const isGone =
    invited.error instanceof Refusal && invited.error.status < 500 && invited.error.status !== 429;
  return (
    <div className={classes.card}>
      <h1>Invitation</h1>
      {token === '' && <Nothing>This link is not whole. Open it again, or ask for a new one.</Nothing>}
      {token !== '' && (invited.isPending || !me) && !invited.error && <Loading what="the invitation" />}
      {isGone && (
        <p role="alert" className={classes.wrong}>
          This invitation no longer serves: it was used, withdrawn or has run out. Ask a manager of the site
          for a new one.
        </p>
      )}
      {invited.error && !isGone && <Failure error={invited.error} retry={() => void invited.refetch()} />}
      {invited.data && me && (
        <>
          <p>
            You are invited to <strong>{invited.data.site_name}</strong> as{' '}
            <strong>{roleWords[invited.data.role].name.toLowerCase()}</strong>: a {invited.data.role}{' '}
            {roleWords[invited.data.role].may}.
          </p>
          {me.person ? <AsWhoIsHere token={token} name={me.person.name} /> : <NewAccount token={token} />}
        </>
      )}
    </div>
  );
}
