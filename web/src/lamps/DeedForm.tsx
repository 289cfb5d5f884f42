// The frame of every form here: its fields, what went wrong, the one deed and the way back.
import { Button, TextInput } from '@mantine/core';
import type { UseMutationResult } from '@tanstack/react-query';
import { useState, type ReactNode } from 'react';
import { newKey } from '../api/client';
import { Failure } from '../parts/Waiting';
import classes from './LampPage.module.css';

// One key as long as the form is open: the deed sent again after a lost answer is done once.
export const useKey = () => useState(newKey)[0];

type Props = {
  submit: string;
  doing: Pick<UseMutationResult<unknown, Error, never>, 'error' | 'isPending'>;
  onSubmit: () => void;
  onCancel: () => void;
  children: ReactNode;
};

export function DeedForm({ submit, doing, onSubmit, onCancel, children }: Props) {
  return (
    <form
      className={classes.fields}
      onSubmit={(event) => {
        event.preventDefault();
        onSubmit();
      }}
    >
      {children}
      {doing.error && <Failure error={doing.error} />}
      <div className={classes.deeds}>
        <Button type="submit" loading={doing.isPending}>
          {submit}
        </Button>
        <Button variant="default" onClick={onCancel}>
          Leave it
        </Button>
      </div>
    </form>
  );
}

type DayProps = { label: string; value: string; onChange: (day: string) => void; required?: boolean };

export function DayInput({ label, value, onChange, required = true }: DayProps) {
  return (
    <TextInput
      type="date"
      label={label}
      required={required}
      value={value}
      onChange={(event) => onChange(event.currentTarget.value)}
    />
  );
}
