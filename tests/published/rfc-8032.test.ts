import { createPrivateKey } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { hasSigned, readVerifier, signerOf, verifierLine } from '../../src/register/log/note.js';

/** RFC 8032, section 7.1, tests 1 to 3 (Ed25519), from memory: each checks itself, key from secret and signature from both. */
const VECTORS = [
  {
    secret: '9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60',
    key: 'd75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a',
    message: '',
    signature:
      'e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b',
  },
  {
    secret: '4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb',
    key: '3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c',
    message: '72',
    signature:
      '92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00',
  },
  {
    secret: 'c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7',
    key: 'fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025',
    message: 'af82',
    signature:
      '6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a',
  },
] as const;

const hex = (text: string): Buffer => Buffer.from(text, 'hex');
/** RFC 8410, section 7: what stands before the 32 bytes of the secret in a PKCS#8 key. */
const signerOfSecret = (secret: string) =>
  signerOf(
    'lantern-coast.example/log',
    createPrivateKey({
      key: Buffer.concat([hex('302e020100300506032b657004220420'), hex(secret)]),
      format: 'der',
      type: 'pkcs8',
    }),
  );

describe.each(VECTORS.map((vector, i) => ({ ...vector, nth: i + 1 })))(
  'RFC 8032, 7.1, test $nth',
  (vector) => {
    const signer = signerOfSecret(vector.secret);

    test('gives the public key, alone and in the line for others', () => {
      const line = verifierLine(signer);
      const coded = Buffer.from(line.split('+').slice(2).join('+'), 'base64');
      expect(coded.toString('hex')).toBe(`01${vector.key}`);
      const read = readVerifier(line);
      expect(read.ok && read.verifier.publicKey.equals(signer.publicKey)).toBe(true);
    });

    test('gives the signature, which is accepted', () => {
      expect(signer.sign(hex(vector.message)).toString('hex')).toBe(vector.signature);
      expect(hasSigned(signer, hex(vector.message), hex(vector.signature))).toBe(true);
    });

    test('refuses another message, and a signature with any one byte altered, cut short or made longer', () => {
      expect(hasSigned(signer, hex(`${vector.message}00`), hex(vector.signature))).toBe(false);
      for (let i = 0; i < 64; i++) {
        const altered = hex(vector.signature);
        altered[i]! ^= 0x10;
        expect(hasSigned(signer, hex(vector.message), altered), `byte ${i}`).toBe(false);
      }
      expect(hasSigned(signer, hex(vector.message), hex(vector.signature).subarray(1))).toBe(false);
      expect(hasSigned(signer, hex(vector.message), Buffer.concat([hex(vector.signature), hex('00')]))).toBe(
        false,
      );
    });

    test('refuses the same signature with the order of the curve added to its second half (5.1.7, S < L)', () => {
      const order = 2n ** 252n + 27742317777372353535851937790883648493n;
      const bytes = hex(vector.signature);
      const s = BigInt(`0x${Buffer.from(bytes.subarray(32)).reverse().toString('hex')}`) + order;
      const other = Buffer.concat([bytes.subarray(0, 32), hex(s.toString(16).padStart(64, '0')).reverse()]);
      expect(hasSigned(signer, hex(vector.message), other)).toBe(false);
    });
  },
);

test('a signer that is printed shows no private key', () => {
  const signer = signerOfSecret(VECTORS[0].secret);
  expect(JSON.stringify(signer)).not.toContain(VECTORS[0].secret);
  expect(Object.keys(signer).sort()).toEqual(['keyHash', 'name', 'publicKey', 'sign']);
  expect(signer.publicKey.type).toBe('public');
});
