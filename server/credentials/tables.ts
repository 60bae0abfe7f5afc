export interface CredentialsTables {
  signing_keys: {
    id: string;
    public_jwk: string;
    sealed: string;
    made_at: string;
    retired_at: string | null;
  };
}
