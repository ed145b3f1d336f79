"""The people who work with the tool, and the hats that they wear."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models import Q

from studio.people.policy import Hat, actions_of


class PersonManager(BaseUserManager["Person"]):
    """Make people."""

    def create_user(
        self, username: str, password: str | None = None, **fields: Any
    ) -> Person:
        """Make a person who signs in by `username`; at least one hat is needed."""
        person = self.model(username=self.model.normalize_username(username), **fields)
        person.set_password(password)
        person.save(using=self._db)
        return person

    def create_superuser(
        self, username: str, password: str | None = None, **fields: Any
    ) -> Person:
        """Make an owner: there is no user who may do more."""
        return self.create_user(username, password, is_owner=True, **fields)


class Person(AbstractBaseUser):
    """Somebody who signs in: owner, planner, bookkeeper, or several on one head."""

    username = models.CharField("sign-in name", max_length=60, unique=True)
    name = models.CharField(max_length=120)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    is_owner = models.BooleanField(default=False)
    is_planner = models.BooleanField(default=False)
    is_bookkeeper = models.BooleanField(default=False)
    is_active = models.BooleanField(default=True)
    joined_at = models.DateTimeField(auto_now_add=True)

    objects = PersonManager()

    USERNAME_FIELD = "username"
    EMAIL_FIELD = "email"
    REQUIRED_FIELDS = ["name"]

    class Meta:
        ordering = ["name", "pk"]
        constraints = [
            models.CheckConstraint(
                name="person_wears_a_hat",
                condition=Q(is_owner=True) | Q(is_planner=True) | Q(is_bookkeeper=True),
            ),
        ]

    def __str__(self) -> str:
        return self.name or self.username

    @property
    def hats(self) -> frozenset[Hat]:
        """The hats that the person wears."""
        worn = {
            Hat.OWNER: self.is_owner,
            Hat.PLANNER: self.is_planner,
            Hat.BOOKKEEPER: self.is_bookkeeper,
        }
        return frozenset(hat for hat, on in worn.items() if on)

    @property
    def hat_words(self) -> str:
        """The hats in words, the weightiest first."""
        return ", ".join(hat.label for hat in Hat if hat in self.hats)

    def may(self, action: str) -> bool:
        """Say whether one of the person's hats may do `action`."""
        return self.is_active and action in actions_of(self.hats)
