"""What is written into the notebook and the shelf."""
