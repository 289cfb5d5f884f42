export default function SignInPage() {
  return <h1>SignIn</h1>;
}
