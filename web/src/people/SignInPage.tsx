// Who comes without a session. The first account of a record is made on the machine it lives on.
import { Button, PasswordInput, TextInput } from '@mantine/core';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState, type SyntheticEvent } from 'react';
import { post, Refusal, setCsrf } from '../api/client';
import { Failure } from '../parts/Waiting';
import classes from './people.module.css';

// The server says what was wrong, and after too many tries how long to wait.
function SignInFailure({ error }: { error: Error }) {
  if (!(error instanceof Refusal) || (error.details?.problems.length ?? 1) > 0)
    return <Failure error={error} />;
  return (
    <p role="alert" className={classes.wrong}>
      {error.message}.
    </p>
  );
}

export default function SignInPage() {
  const queries = useQueryClient();
  const [login, setLogin] = useState('');
  const [password, setPassword] = useState('');
  const signIn = useMutation({
    mutationFn: () => post('/api/session', { login: login.trim(), password }),
    onSuccess: (me) => {
      setCsrf(me.csrf);
      queries.setQueryData(['me'], me);
    },
  });
  function submit(event: SyntheticEvent) {
    event.preventDefault();
    signIn.mutate();
  }
  return (
    <form className={classes.card} aria-labelledby="sign-in" onSubmit={submit}>
      <h1 id="sign-in">Sign in</h1>
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
        autoComplete="current-password"
        required
        value={password}
        onChange={(event) => setPassword(event.currentTarget.value)}
      />
      {signIn.error && <SignInFailure error={signIn.error} />}
      <Button type="submit" loading={signIn.isPending}>
        Sign in
      </Button>
      <p className={classes.soft}>No account yet? A manager of your site can give you a link or a QR code.</p>
    </form>
  );
}
