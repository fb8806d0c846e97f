"""Routines scored on a Dask cluster: scheduler and workers of Dask's own on loopback, one of them killed."""

import json
import pickle
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

from reviewer.actions.meetrescoring import _packed, bare, rescored
from reviewer.cli.clusters import ClusterError, cluster
from reviewer.cli.program import program
from reviewer.terms.marks import Mark
from tests.actions.drawn_meet import draw_meet
from tests.actions.meet_jobs import jobs_of
from tests.cli.cluster_on_loopback import on_loopback

pytestmark = pytest.mark.filterwarnings("ignore::ResourceWarning", "ignore::DeprecationWarning")
SHARED = 600


@pytest.fixture
def meet(tmp_path: Path) -> Path:
    draw_meet(tmp_path / "meet", 40, 20)
    return tmp_path / "meet"


def figures(meet: Path, *asked: str) -> dict[str, Any]:
    done = CliRunner().invoke(program, ["meet", "figures", str(meet), "--json", *asked], obj={"json": False})
    assert done.exit_code == 0, done.output
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def refused(does: Callable[[], Any]) -> str:
    with pytest.raises(ClusterError) as caught:
        does()
    return caught.value.problems[0].code


def entered(address: str, keys: Path | None = None) -> None:
    with cluster(address, keys):
        pass


def test_a_cluster_comes_to_what_this_machine_comes_to(meet: Path, tmp_path: Path) -> None:
    with on_loopback(tmp_path) as there:
        assert figures(meet, "--cluster", there.address) == figures(meet)


def test_a_worker_that_is_killed_half_way_loses_nothing(tmp_path: Path) -> None:
    jobs = jobs_of(SHARED)
    here = list(rescored(jobs))
    with on_loopback(tmp_path) as there, cluster(there.address, None) as workers:
        found = rescored(jobs, workers, many=1)
        begun = [next(found) for _ in range(SHARED // 4)]
        there.workers[0].kill()
        there.workers[0].wait()
        assert begun + list(found) == here


def test_as_dasks_own_cluster_does(tmp_path: Path) -> None:
    """Dask's LocalCluster is the reference: our executor on it gives what a thread pool gives."""
    from distributed import LocalCluster

    with (
        LocalCluster(
            n_workers=2, threads_per_worker=1, processes=False, dashboard_address=None, protocol="tcp"
        ) as own,
        cluster(own.scheduler_address, None) as workers,
        ThreadPoolExecutor(2) as threads,
    ):
        assert list(workers.map(divmod, range(40), [7] * 40)) == list(
            threads.map(divmod, range(40), [7] * 40)
        )
        with pytest.raises(ZeroDivisionError):
            workers.submit(divmod, 1, 0).result(30)


def test_what_travels_names_nobody() -> None:
    marks = (
        Mark("m1", "element", "cast", order=1, called="Somebody’s own", recording="f" * 64),
        Mark("m2", "element", "cast", order=2, called="Somebody’s own"),
        Mark("m3", "element", "cast", order=3, called="another"),
    )
    names: dict[str, str] = {}
    assert [bare(one, names).called for one in marks] == ["1", "1", "2"]
    assert bare(marks[0], names).recording is None
    sent = pickle.dumps(_packed(jobs_of(3)))
    for private in (b"G-1", b".case", b".mp4", b"/tmp"):
        assert private not in sent


def test_other_machines_are_spoken_to_by_tls_alone(tmp_path: Path) -> None:
    assert refused(lambda: entered("tcp://10.0.0.7:8786")) == "no-tls"
    assert refused(lambda: entered("10.0.0.7")) == "no-address"
    assert refused(lambda: entered("tls://10.0.0.7:8786")) == "no-keys"
    assert refused(lambda: entered("tls://10.0.0.7:8786", tmp_path)) == "no-keys"
    assert refused(lambda: entered("tcp://127.0.0.1:1")) == "no-cluster"


def test_a_cluster_behind_tls_answers_whoever_has_its_keys(tmp_path: Path) -> None:
    keys, strangers = tmp_path / "keys", tmp_path / "strangers"
    make_keys(keys)
    make_keys(strangers)
    told = ["--tls-ca-file", str(keys / "ca.pem"), "--tls-cert", str(keys / "cert.pem")]
    told += ["--tls-key", str(keys / "key.pem")]
    with on_loopback(tmp_path, tls=told) as there:
        assert there.address.startswith("tls://")
        with cluster(there.address, keys) as workers:
            assert workers.submit(divmod, 7, 2).result(30) == (3, 1)
        assert refused(lambda: entered(there.address, strangers)) == "no-cluster"


def make_keys(folder: Path) -> None:
    """Who signs, and a key that is signed: each folder of its own."""
    folder.mkdir()
    ca_key, own_key = (ec.generate_private_key(ec.SECP256R1()) for _ in range(2))
    ca_name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "signs")])
    now, of_ca = datetime.now(UTC), x509.BasicConstraints(ca=True, path_length=None)
    signed = {
        "ca.pem": (ca_name, ca_key, of_ca),
        "cert.pem": (
            x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "own")]),
            own_key,
            x509.BasicConstraints(ca=False, path_length=None),
        ),
    }
    for file, (name, key, kind) in signed.items():
        made = (
            x509.CertificateBuilder()
            .subject_name(name)
            .issuer_name(ca_name)
            .public_key(key.public_key())
            .serial_number(x509.random_serial_number())
            .not_valid_before(now - timedelta(minutes=5))
            .not_valid_after(now + timedelta(days=1))
            .add_extension(kind, critical=True)
            .sign(ca_key, hashes.SHA256())
        )
        (folder / file).write_bytes(made.public_bytes(serialization.Encoding.PEM))
    private = own_key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )
    (folder / "key.pem").write_bytes(private)
