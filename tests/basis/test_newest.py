"""Of many values the newest used are remembered."""

from seaload.basis.newest import Newest


def test_the_newest_used_are_kept():
    kept = Newest(2)
    kept.put("a", 1)
    kept.put("b", 2)
    assert kept.get("a") == 1
    kept.put("c", 3)
    assert (kept.get("a"), kept.get("b"), kept.get("c"), len(kept)) == (1, None, 3, 2)
