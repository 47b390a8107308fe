"""A time-stamping authority of our own, made with OpenSSL: a root, and clocks certified by it."""

from __future__ import annotations

import itertools
import subprocess
from pathlib import Path

from asn1crypto import cms, tsp
from asn1crypto.x509 import Certificate
from cryptography import x509
from cryptography.hazmat.primitives.serialization import Encoding

_CONFIG = """
[req]
distinguished_name = dn
[dn]
[root]
basicConstraints = critical,CA:TRUE
keyUsage = critical,keyCertSign,cRLSign
[clock]
basicConstraints = CA:FALSE
keyUsage = critical,digitalSignature
extendedKeyUsage = {use}
[tsa]
default_tsa = here
[here]
serial = {folder}/serial
signer_digest = sha256
default_policy = 1.2.3.4
digests = sha256
tsa_name = yes
ess_cert_id_alg = sha256
[ca]
default_ca = us
[us]
database = {folder}/index
new_certs_dir = {folder}
serial = {folder}/issued
default_md = sha256
policy = any
unique_subject = no
[any]
organizationName = optional
commonName = optional
"""


class Authority:
    """An authority in a folder of its own. root: its root certificate in PEM."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._count = itertools.count(1)
        folder.mkdir(parents=True, exist_ok=True)
        self.file("serial").write_text("01\n")
        new_key = ["-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes"]
        subject = ["-subj", "/O=Quillhaven Time/CN=Quillhaven Time Root", "-days", "3650", "-extensions", "root"]
        self._config("critical,timeStamping")
        self._run("req", "-x509", *new_key, "-keyout", "root.key", "-out", "root.pem", *subject)
        clock = ["-subj", "/O=Quillhaven Time/CN=Clock 1"]
        self._run("req", "-new", *new_key, "-keyout", "clock.key", "-out", "clock.csr", *clock)
        self._signer = self.signer()

    @property
    def root(self) -> bytes:
        return self.file("root.pem").read_bytes()

    def file(self, name: str) -> Path:
        return self._folder / name

    def signer(
        self, *, use: str = "critical,timeStamping", valid: tuple[str, str] = ("20200101000000Z", "20600101000000Z")
    ) -> str:
        """The name of a new certificate of the authority's clock; all have one number and one key."""
        self._config(use)
        self.file("index").write_text("")
        self.file("issued").write_text("2A\n")
        name = f"clock-{next(self._count)}.pem"
        dates = ["-startdate", valid[0], "-enddate", valid[1]]
        ours = ["-cert", "root.pem", "-keyfile", "root.key", "-extensions", "clock", "-batch", "-notext"]
        self._run("ca", *ours, *dates, "-in", "clock.csr", "-out", name)
        return name

    def answer(self, request: Path, *, signer: str = "", digest_only: str = "") -> Path:
        """The answer to a request. digest_only: to one over this hash that has no nonce, in its place."""
        if digest_only:
            plain = self.file(f"{next(self._count)}.tsq")
            self._run("ts", "-query", "-digest", digest_only, "-sha256", "-no_nonce", "-cert", "-out", plain)
            request = plain
        out = self.file(f"{next(self._count)}.tsr")
        self._run(
            *("ts", "-reply", "-queryfile", request, "-signer", signer or self._signer),
            *("-inkey", "clock.key", "-out", out),
        )
        return out

    def exchanged(self, answer: Path, signer: str) -> bytes:
        """The answer with another certificate of its signer in it."""
        told = tsp.TimeStampResp.load(answer.read_bytes())
        der = x509.load_pem_x509_certificate(self.file(signer).read_bytes()).public_bytes(Encoding.DER)
        signed = told["time_stamp_token"]["content"]
        signed["certificates"] = cms.CertificateSet([cms.CertificateChoices("certificate", Certificate.load(der))])
        return bytes(told.dump(force=True))

    def _config(self, use: str) -> None:
        self.file("openssl.cnf").write_text(_CONFIG.format(folder=self._folder, use=use))

    def _run(self, job: str, *arguments: object) -> None:
        # `ts -query` and `-verify` take no configuration.
        config = [] if "-query" in arguments else ["-config", "openssl.cnf"]
        command = ["openssl", job, *map(str, arguments), *config]
        done = subprocess.run(command, cwd=self._folder, capture_output=True, text=True)
        assert done.returncode == 0, done.stderr
