"""The risk board: board.html for the skipper, its readings between sailed points."""
