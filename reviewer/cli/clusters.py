"""Work done by other machines: a Dask cluster whose address the user gives, as a standard executor.

The one exception to no network. Whoever is not this machine is spoken to by TLS alone.
"""

from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Executor, Future
from contextlib import contextmanager
from ipaddress import ip_address
from pathlib import Path
from typing import Any, TypeVar
from urllib.parse import urlsplit

from reviewer.terms.messages import message, reason
from reviewer.terms.problems import Problem, ReviewerError

_Answer = TypeVar("_Answer")
_SECONDS = 10
"""How long a cluster may take to answer."""
_TRIES = 3
"""How often a piece of work is begun anew elsewhere when its worker is gone."""
KEYS = ("ca.pem", "cert.pem", "key.pem")
"""What a folder of keys holds: who signed all certificates, our own one, and its private key."""


class ClusterError(ReviewerError):
    """A cluster cannot be used."""


class ClusterExecutor(Executor):
    """The workers of a Dask cluster; what is handed to one that goes away is begun anew by another."""

    def __init__(self, client: Any) -> None:
        self._client = client

    def submit(self, fn: Callable[..., _Answer], /, *args: Any, **kwargs: Any) -> "Future[_Answer]":
        """Have one piece of work done."""
        handed: Future[_Answer] = Future()
        handed.set_running_or_notify_cancel()
        asked = self._client.submit(fn, *args, **kwargs, pure=False, retries=_TRIES)
        asked.add_done_callback(lambda done: _settle(handed, done))
        return handed

    def map(
        self,
        fn: Callable[..., _Answer],
        *iterables: Iterable[Any],
        timeout: float | None = None,
        chunksize: int = 1,
        buffersize: int | None = None,
    ) -> Iterator[_Answer]:
        """The answers in order."""
        return super().map(fn, *iterables, timeout=timeout, chunksize=chunksize)


def _settle(handed: "Future[Any]", done: Any) -> None:
    if done.cancelled():
        handed.set_exception(_lost())
        return
    fault = done.exception()
    handed.set_exception(fault) if fault is not None else handed.set_result(done.result())


def _lost() -> ClusterError:
    said = message("The cluster let go of work that was not done.")
    return ClusterError(Problem("cluster-lost", "--cluster", said, message("Do it again.")))


@contextmanager
def cluster(address: str, keys: Path | None) -> Iterator[Executor]:
    """The workers at an address such as ``tls://10.0.0.7:8786``; a ClusterError where none can be had."""
    security = _security(address, keys)
    try:
        from distributed import Client
    except ImportError:
        said = message("Clusters need Dask, which is not installed.")
        remedy = message("Install it: pip install 'reviewer[cluster]'.")
        raise ClusterError(Problem("no-dask", "--cluster", said, remedy)) from None
    try:
        client: Any = Client(  # type: ignore[no-untyped-call]
            address, timeout=_SECONDS, security=security, set_as_default=False
        )
    except (OSError, TimeoutError, ValueError) as fault:
        said = message("No cluster answers: {reason}.", reason=reason(fault))
        raise ClusterError(Problem("no-cluster", address, said, _REACHED)) from None
    with client:
        if not client.scheduler_info()["workers"]:
            said = message("The cluster has no worker.")
            raise ClusterError(Problem("no-workers", address, said, message("Start one there.")))
        yield ClusterExecutor(client)


_REACHED = message("See that its scheduler runs there and can be reached.")


def _security(address: str, keys: Path | None) -> Any:
    """What speaks TLS; None on this machine without keys. A ClusterError where TLS must be and is not."""
    parts = urlsplit(address)
    if parts.scheme not in ("tcp", "tls") or not parts.hostname:
        said = message("This is no address of a cluster.")
        raise ClusterError(
            Problem("no-address", address, said, message("Write it such as tls://10.0.0.7:8786."))
        )
    if parts.scheme == "tcp":
        if not _is_loopback(parts.hostname):
            said = message("Other machines are spoken to by TLS alone.")
            remedy = message("Begin the address with tls://, and name the keys with --cluster-keys.")
            raise ClusterError(Problem("no-tls", address, said, remedy))
        return None
    return _with_keys(address, keys)


def _with_keys(address: str, keys: Path | None) -> Any:
    missing = KEYS if keys is None else tuple(name for name in KEYS if not (keys / name).is_file())
    if missing or keys is None:
        said = message("TLS needs keys: {missing} is missing.", missing=", ".join(missing))
        remedy = message("Name with --cluster-keys a folder that holds {names}.", names=", ".join(KEYS))
        raise ClusterError(Problem("no-keys", str(keys or address), said, remedy))
    from distributed.security import Security

    ca, own, private = (str(keys / name) for name in KEYS)
    return Security(  # type: ignore[no-untyped-call]
        require_encryption=True, tls_ca_file=ca, tls_client_cert=own, tls_client_key=private
    )


def _is_loopback(host: str) -> bool:
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"
