export default function InvitedPage() {
  return <h1>Invited</h1>;
}
