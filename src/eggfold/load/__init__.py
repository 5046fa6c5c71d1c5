"""What a user wrote: bytes through one gate, YAML to nodes with places, and models read from them."""
