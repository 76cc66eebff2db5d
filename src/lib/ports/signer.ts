/** A public Ed25519 key as a JSON Web Key (RFC 8037): kty "OKP", crv "Ed25519", x base64url. */
export type PublicKey = Readonly<Record<string, string>>;

/** A key of this device, its own or a person's. The private half never leaves it. */
export interface Signer {
	readonly key: PublicKey;
	/** Ed25519 signature (RFC 8032), 64 bytes. */
	sign(message: Uint8Array): Promise<Uint8Array>;
}

/** Whether a signature fits. False for a key or signature that is none; never throws on content. */
export type Verify = (key: PublicKey, signature: Uint8Array, message: Uint8Array) => Promise<boolean>;
