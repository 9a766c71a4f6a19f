"""What facts are read through: a session that cannot write. Fetch everything, then leave it."""

from __future__ import annotations

from sqlalchemy.orm import Session as Reading

__all__ = ["Reading"]
