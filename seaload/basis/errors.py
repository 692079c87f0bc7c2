"""Named errors of seaload, each with the exit code a command ends with."""


class SealoadError(Exception):
    """Base of every error that seaload raises on purpose; `exit_code` is what the command returns."""

    exit_code = 3


class InputError(SealoadError, ValueError):
    """Something a person wrote is wrong: one line with file, field, value and what is allowed."""

    exit_code = 2

    def __init__(self, file, field, value, allowed):
        self.file, self.field, self.value, self.allowed = str(file), str(field), value, str(allowed)
        shown = repr(value)
        if len(shown) > 80:
            shown = shown[:77] + "..."
        super().__init__(" ".join(f"{self.file}: {self.field} = {shown}: {self.allowed}".split()))


class CannotRun(SealoadError):
    """The machine refuses: disk, folder, scheduler, a second writer."""

    exit_code = 3
